/** Every voice under every mensuration that its signs leave, weighed by itself, by its length and by ear. */
import { flatSigns, type Page, type Voice } from "../../page/index.js"
import { readAlike } from "../../reading/same-options.js"
import { choosePractice, type Assumed, type Chosen, type ReadOptions } from "../../reading/settings.js"
import { sharedOptions } from "../shared.js"
import { countingOf, countsAlike, isGrouped, trialsOf, type Counting, type Trial } from "./candidates.js"
import { blended, customOf } from "./custom.js"
import { chancesOf, type Joint, type VoiceTrials } from "./joint.js"
import { departsFrom, heardApart, type HeardApart } from "./departures.js"
import { lengthsByColour, lengthsTogether } from "./lengths.js"
import { likeliestTogether, sharedChances } from "./likeliest.js"
import { heardUnder, type Heard } from "./sounds.js"
import { sectionsOf } from "./tokens.js"
import { LENGTHS, type Custom } from "./weights.js"

/** A voice at work. */
export interface Work {
  readonly voice: Voice
  readonly chosen: Chosen
  readonly counting: Counting
  readonly trials: readonly Trial[]
}

/** What was last worked out of a voice: it holds as long as the voice and the options are the same. */
const worked = new WeakMap<Voice, { readonly options: ReadOptions; readonly work: Work }>()

function work(voice: Voice, options: ReadOptions, told: boolean): Work {
  const before = told ? undefined : worked.get(voice)
  if (before !== undefined && readAlike(voice, before.options, options)) return before.work
  const found = workAnew(voice, options, told)
  if (!told) worked.set(voice, { options, work: found })
  return found
}

function workAnew(voice: Voice, options: ReadOptions, told: boolean): Work {
  const chosen = choosePractice(voice, flatSigns(voice), options)
  const grouped = isGrouped(chosen.practice.name, chosen.settings)
  const counting = countingOf(sectionsOf(voice, chosen, options, grouped), chosen, told)
  return { voice, chosen, counting, trials: trialsOf(counting) }
}

/** All voices of a page in one practice, where they do not say theirs. */
export interface Weighed {
  readonly works: readonly Work[]
  /** By voice and trial. */
  readonly chances: number[][]
  /** By voice, the number of the likeliest trial such that the voices go together; undefined where none was tried. */
  readonly likeliest: readonly (number | undefined)[]
  readonly lengths?: readonly (readonly (string | undefined)[])[]
  readonly heard?: Heard | undefined
  /** Single voices under other measures than the likeliest. */
  readonly apart?: HeardApart | undefined
  /** What the voices are read by, but for their mensurations. */
  readonly options: ReadOptions
}

/** A practice that measures like the one that is weighed, but has other customs, and how likely it is meant instead. */
export interface Alike {
  readonly name: string
  readonly chance: number
}

/** `practice`: of the voices that do not say theirs. */
export function weigh(
  page: Page,
  practice: Assumed["practice"],
  options: ReadOptions,
  told: boolean,
  alike?: Alike,
): Weighed {
  const assumed = new Map(practice && page.voices.map(voice => [voice.id, { practice }]))
  const known = { ...options, assumed }
  const all = { ...known, shared: options.shared ?? sharedOptions(page, known) }
  const works = page.voices.map(voice => work(voice, all, told))
  return { works, options: all, ...chancesTogether(page, works, all, alike) }
}

/** Lengths take time: they are asked for only where the measures alone leave a choice; to hear the voices takes more. */
function chancesTogether(
  page: Page,
  works: readonly Work[],
  options: ReadOptions,
  alike: Alike | undefined,
): Pick<Weighed, "chances" | "likeliest" | "lengths" | "heard" | "apart"> {
  const trials = works.map(one => trialsFor(one, alike))
  const decided = (joint: Joint) => ({ chances: joint.chances, likeliest: likeliestTogether(works, joint) })
  const first = chancesOf(trials)
  const linked = works.filter(one => !one.counting.byTempus)
  if (linked.length < 2) return decided(first)
  const settled = works.every(({ trials }, v) => isSettled(trials, first.chances[v]!))
  const lengths = settled
    ? undefined
    : lengthsTogether(
        works.map((one, v) => ({ ...one, chances: sharedChances(one, first.chances[v]!) })),
        options,
      )
  const tried = trials.map((one, v): VoiceTrials => {
    const own = lengths?.[v]
    if (own === undefined) return one
    const { voice, chosen } = works[v]!
    const isOpen = chosen.practice.name === "ars-nova" && chosen.settings["colourMap"] === "lose-a-third"
    const coloured = isOpen && lengthsByColour(voice, options, one.trials, first.chances[v]!, own)
    return { ...one, lengths: own, ...(coloured && { coloured }) }
  })
  const counted = settled ? first : chancesOf(tried)
  const heard = heardUnder(page, works, counted.commons, options)
  const together = heard === undefined ? counted : chancesOf(tried, heard.sounds)
  const apart = heardApart(page, works, together, options)
  if (apart === undefined) return { ...decided(together), heard, ...(lengths && { lengths }) }
  const departing = tried.map((one, v) => ({ ...one, departs: departsFrom(apart, v) }))
  return { ...decided(chancesOf(departing, heard?.sounds)), heard, apart, ...(lengths && { lengths }) }
}

/** All trials that are likely at all count the notes alike, and make the voice as long. */
function isSettled(trials: readonly Trial[], chances: readonly number[]): boolean {
  const likely = trials.filter((_, c) => chances[c]! >= LENGTHS.leastChance)
  return likely.every(one => countsAlike(one, likely[0]!) && one.scale === likely[0]!.scale)
}

const trialsFor = ({ chosen, trials, counting }: Work, alike: Alike | undefined): VoiceTrials => ({
  trials,
  byTempus: counting.byTempus,
  custom: customFor(chosen, alike, counting.sections[0]?.stated.has("tempus") === true),
})

function customFor({ practice, settings, choice }: Chosen, alike: Alike | undefined, isSigned: boolean): Custom {
  const own = customOf(practice.name, settings, isSigned)
  if (alike === undefined || choice.from !== "inferred") return own
  return blended(own, customOf(alike.name, {}, isSigned), alike.chance)
}
