/**
 * What a reading tells of its mensurations: where the notes of a voice contradict what its own signs state, and where they
 * leave what they went by though no sign says so. Stated signs are strong evidence, not fact; nothing is read otherwise
 * for it.
 */
import type { Problem } from "../../base/index.js"
import { flatSigns, type Page, type Voice } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import type { Reading } from "../../reading/index.js"
import { choosePractice, type Chosen, type ReadOptions } from "../../reading/settings.js"
import { countingOf, isGrouped, trial, type Counting } from "./candidates.js"
import { changesIn } from "./changes.js"
import { contradictions, nothingTried, type Tried } from "./declared.js"
import { sectionsOf, type Section } from "./tokens.js"
import type { FoundChange } from "./types.js"
import { LEFT_FOR_CERTAIN } from "./weights.js"
import { mensurationInWords } from "./words.js"

interface Known {
  readonly key: string
  readonly problems: readonly Problem[]
}
/** What was told of a voice: it holds as long as the voice and what it is read by are the same. */
const known = new WeakMap<Voice, Known>()

/** The readings with problems where a voice contradicts the mensuration that its own signs state, or leaves its mensuration. */
export function withMensurationsTold(page: Page, readings: readonly Reading[], options: ReadOptions): Reading[] {
  return readings.map((reading, i) => {
    const problems = problemsOf(page.voices[i]!, options)
    return problems.length === 0 ? reading : { ...reading, problems: [...reading.problems, ...problems] }
  })
}

function problemsOf(voice: Voice, options: ReadOptions): readonly Problem[] {
  const chosen = choosePractice(voice, flatSigns(voice), options)
  const key = `${chosen.practice.name} ${JSON.stringify([chosen.settings, options.ignoreGiven, options.assumed?.get(voice.id)])}`
  const before = known.get(voice)
  if (before?.key === key) return before.problems
  const problems = [...asked(voice, chosen, options), ...supplied(voice, chosen)]
  known.set(voice, { key, problems })
  return problems
}

function asked(voice: Voice, chosen: Chosen, options: ReadOptions): readonly Problem[] {
  const grouped = isGrouped(chosen.practice.name, chosen.settings)
  const counting = countingOf(sectionsOf(voice, chosen, options, grouped), chosen)
  const first = counting.sections[0]
  if (first === undefined || counting.byTempus) return []
  const tried = nothingTried(counting)
  const contradicted = contradictions(counting, first.measuring, voice.label, tried)
  // a voice that goes by another mensuration as a whole has left nothing
  if (contradicted.length > 0) return contradicted
  return counting.sections.flatMap(section => leftIn(counting, section, tried).map(one => left(voice, one)))
}

/** Stretches of a section that go by another tempus or prolation than the whole, and leave no doubt of it. */
function leftIn(counting: Counting, section: Section, tried: Tried): FoundChange[] {
  const alone: Counting = { ...counting, sections: [{ ...section, stated: new Set() }] }
  const { modusMaior, modusMinor } = section.measuring
  const all = ([2, 3] as const).flatMap(tempus =>
    ([2, 3] as const).map((prolatio): Divisions => ({ modusMaior, modusMinor, tempus, prolatio })),
  )
  const trials = all.map(divisions => trial(alone, divisions, tried.get(section)))
  return changesIn(alone, trials, section.measuring).filter(({ doubt }) => doubt < LEFT_FOR_CERTAIN)
}

/** Changes by which the voice is read though no sign states them. */
function supplied(voice: Voice, { divisions }: Chosen): Problem[] {
  const changes = divisions?.changes ?? []
  if (changes.length === 0) return []
  const counted = flatSigns(voice).filter(({ sign }) => sign.kind === "note" || sign.kind === "rest")
  return changes.map(({ from, divisions: after }) => {
    const place = `${voice.label} ${counted.findIndex(({ sign }) => sign.id === from) + 1}`
    return {
      code: "mensuration-supplied",
      what: `From here on ${mensurationInWords(after)} is supplied: the notes go by it, though no sign says so.`,
      where: { sign: from, place },
      mend: "Write the sign there if this is right; a voice that states its mensuration is read by no other.",
    }
  })
}

function left({ label }: Voice, { from, what, place }: FoundChange): Problem {
  return {
    code: "mensuration-left",
    what: `${label}: ${what.charAt(0).toLowerCase()}${what.slice(1).replace(/\.$/, "")}, though no sign says so.`,
    where: { sign: from, place: `${label} ${place}` },
    mend: "See whether a sign of mensuration was left out there; with it, all is read again.",
  }
}
