/** Which practice a page is written in, where it does not say: one for all its voices, found from the shapes they use. */
import type { SignId } from "../../base/index.js"
import { flatSigns, type FlatSign, type Page, type Voice } from "../../page/index.js"
import { saysModus } from "../../practices/index.js"
import { choosePractice, saidPractice, type ReadOptions } from "../../reading/settings.js"
import { countingOf, trialsOf } from "./candidates.js"
import { sectionsOf } from "./tokens.js"
import type { Evidence, PracticeCandidate } from "./types.js"
import { agreesIn } from "./custom.js"
import { lateSigns, yearEvidence } from "./times.js"
import { CUSTOM, LATE, OLD, TEMPER, type Custom } from "./weights.js"

export interface PracticeFound {
  readonly name: string
  /** Natural logarithm of the odds of one of two practices before any evidence. */
  readonly before?: { readonly name: string; readonly odds: number }
  /** Twice the chance that it is wrong. */
  readonly doubt: number
  /** All that were tried, likeliest first. */
  readonly candidates: readonly PracticeCandidate[]
}

/** Odds of one voice count up to this: what is surer makes no difference, and in long books would become too great a number. */
const BEYOND_DOUBT = 40
/** Evidence weaker than this is not told. */
const LEAST_TOLD = 0.3
const SMALL: ReadonlySet<string> = new Set(["minima", "semiminima", "fusa", "semifusa"])

/** What the voices show of their practice, in numbers and places. */
export interface Shapes {
  readonly notes: number
  readonly minims: readonly SignId[]
  readonly fusae: readonly SignId[]
  readonly red: readonly SignId[]
  readonly blackened: readonly SignId[]
  readonly cut: readonly SignId[]
  readonly plicas: readonly SignId[]
  readonly oldBodies: readonly SignId[]
  readonly strokes: readonly SignId[]
  readonly stems: readonly SignId[]
  readonly coloured: readonly SignId[]
  readonly faster: readonly SignId[]
  readonly signs: readonly SignId[]
  readonly stated: readonly SignId[]
  readonly white: boolean
  readonly black: boolean
}

/** Practices of voices that do not say theirs; undefined where every voice says it or the caller does. */
export function practiceFound(page: Page, options: ReadOptions): PracticeFound | undefined {
  const silent = page.voices.filter(voice => saidPractice(voice, options) === undefined)
  if (silent.length === 0) return undefined
  const shapes = shapesOf(silent)
  if (shapes.white) return certain("white", OLD.certainDoubt, { rule: "void-heads", what: "heads are void" })
  if (shapes.minims.length > OLD.strayMinims * shapes.notes) return withMinims(silent, shapes, page.years)
  return withoutMinims(silent, shapes, options, page.years)
}

function certain(
  name: string,
  doubt: number,
  { rule, what, signs = [] }: Partial<Evidence> & { rule: string; what: string },
): PracticeFound {
  const evidence = [{ rule, what, signs, weight: Math.log(2 / doubt - 1) }]
  return { name, doubt, candidates: [{ name, chance: 1 - doubt / 2, evidence }] }
}

/** Minims, and full heads: Ars nova. Where nothing is said of the heads it may be white notation too. */
function withMinims(voices: readonly Voice[], shapes: Shapes, years: Page["years"]): PracticeFound {
  if (shapes.black)
    return certain("ars-nova", OLD.certainDoubt, {
      rule: "minims",
      what: "minims are written, and heads are full",
      signs: shapes.minims.slice(0, 3),
    })
  const evidence = lateSigns(voices, shapes)
  const dated = yearEvidence(years, LATE.between, LATE.within)
  return inOrder({ name: "white", odds: LATE.before }, candidatesOf(["white", "ars-nova"], [...evidence, ...dated]))
}

/** No minims: about 1300, or 1315-25, when plain semibreves stood for them. */
function withoutMinims(
  voices: readonly Voice[],
  shapes: Shapes,
  options: ReadOptions,
  years: Page["years"],
): PracticeFound {
  const evidence = [...oldSigns(shapes), ...countEvidence(voices, options)]
  const dated = yearEvidence(years, OLD.between, OLD.within).map(one => ({ ...one, weight: -one.weight }))
  return inOrder(
    { name: "ars-antiqua", odds: OLD.before },
    candidatesOf(["ars-antiqua", "ars-nova"], [...evidence, ...dated]),
  )
}

/** Evidence for the first of two practices speaks against the second. */
const candidatesOf = (names: readonly [string, string], evidence: readonly Evidence[]): PracticeCandidate[] => [
  { name: names[0], chance: 0, evidence },
  { name: names[1], chance: 0, evidence: evidence.map(one => ({ ...one, weight: -one.weight })) },
]

/** Practices that may be meant, with the chances as their evidence has them, the likelier first. */
export function inOrder(
  before: NonNullable<PracticeFound["before"]>,
  candidates: readonly PracticeCandidate[],
): PracticeFound {
  const weighed = candidates.map(one => {
    const own = one.name === before.name ? before.odds : -before.odds
    const odds = own + one.evidence.reduce((sum, { weight }) => sum + weight, 0)
    return { ...one, chance: 1 / (1 + Math.exp(-odds)) }
  })
  weighed.sort((a, b) => b.chance - a.chance)
  const wrong = Math.max(OLD.certainDoubt / 2, 1 - weighed[0]!.chance)
  return { name: weighed[0]!.name, doubt: Math.min(1, 2 * wrong), candidates: weighed, before }
}

/** For (positive) or against Ars antiqua. */
function oldSigns(shapes: Shapes): Evidence[] {
  const kinds: [string, readonly SignId[], number, number, string][] = [
    ["plicas", shapes.plicas, OLD.plica, OLD.mostPlicas, "notes bear plicas"],
    [
      "old-bodies",
      shapes.oldBodies,
      OLD.body,
      OLD.mostBodies,
      "double longs or square heads with running lozenges stand here",
    ],
    [
      "strokes",
      shapes.strokes,
      OLD.stroke,
      OLD.mostStrokes,
      "small strokes part perfections, or a stroke ends a section",
    ],
    ["downstems", shapes.stems, OLD.stem, OLD.mostStems, "semibreves have stems that point down"],
    ["coloration", shapes.coloured, OLD.colour, OLD.mostColour, "notes are coloured"],
    [
      "proportions",
      shapes.faster,
      OLD.faster,
      OLD.mostFaster,
      "numbers or words say that a voice is sung otherwise than written",
    ],
    ["signs", shapes.signs, OLD.sign, OLD.mostSigns, "signs of tempus or prolation stand here"],
    ["stated", shapes.stated, OLD.stated, OLD.stated, "the file states a prolation, or a breve of two parts"],
  ]
  return kinds
    .filter(([, signs]) => signs.length > 0)
    .map(([rule, signs, each, most, what]) => {
      const weight = Math.sign(each) * Math.min(Math.abs(most), Math.abs(each) * signs.length)
      return { rule, signs: signs.slice(0, 3), weight, what: `${what} (${signs.length})` }
    })
}

/** About 1300 the modus is perfect, nearly always, and few semibreves stand on a breve; later it is otherwise as often. */
function countEvidence(voices: readonly Voice[], options: ReadOptions): Evidence[] {
  const antiqua = { ...options, practice: { name: "ars-antiqua" } }
  const odds: number[] = []
  const groups: number[] = []
  for (const voice of voices) {
    const chosen = choosePractice(voice, flatSigns(voice), antiqua)
    const counting = countingOf(sectionsOf(voice, chosen, antiqua, true), chosen)
    for (const { tokens } of counting.sections) for (const { members } of tokens) if (members > 1) groups.push(members)
    const trials = trialsOf(counting)
    const best = (modus: 2 | 3): number =>
      Math.max(...trials.filter(one => one.divisions.modusMinor === modus).map(one => one.fit))
    const stated = counting.sections[0]?.stated.has("modusMinor")
    const own = stated ? saidModus(counting.sections[0]!.measuring.modusMinor) : TEMPER * (best(3) - best(2))
    if (trials.length > 0 && Number.isFinite(own)) odds.push(Math.max(-BEYOND_DOUBT, Math.min(BEYOND_DOUBT, own)))
  }
  return [...modusEvidence(odds), ...groupEvidence(groups)]
}

/**
 * Each voice by itself counts in threes or twos: in Ars antiqua all count in threes, c. 1315-25 the piece has a modus, of
 * which a voice may depart. `odds`: for the perfect modus, by voice.
 */
function modusEvidence(odds: readonly number[]): Evidence[] {
  const piece = (chanceOfThree: number): number =>
    odds.reduce((product, one) => product * (chanceOfThree * Math.exp(one) + 1 - chanceOfThree), 1)
  const chanceIn = (custom: Custom): number =>
    [3, 2].reduce((sum, common) => {
      const chance = common === 3 ? custom.modusMinor : 1 - custom.modusMinor
      return sum + chance * piece(agreesIn(custom, "modusMinor", 3, common as 2 | 3))
    }, 0)
  const found = Math.log(piece(CUSTOM["ars-antiqua"]!.modusMinor) / chanceIn(CUSTOM["ars-nova-early"]!))
  if (!Number.isFinite(found) || Math.abs(found) < LEAST_TOLD) return []
  const weight = Math.max(-OLD.mostModus, Math.min(OLD.modusPerfect, found))
  const what =
    weight > 0
      ? "longs and breves count in threes"
      : odds.some(one => one > 0)
        ? "the longs and breves of some voices count in twos"
        : "longs and breves count in twos"
  return [{ rule: "modus", signs: [], weight, what }]
}

/** Odds for the perfect modus where the file states one. */
const saidModus = (modus: 2 | 3): number => (modus === 3 ? -OLD.stated : OLD.stated)

function groupEvidence(groups: readonly number[]): Evidence[] {
  if (groups.length < OLD.leastGroups || groups.some(members => members > 3)) return []
  return [
    { rule: "small-groups", signs: [], weight: OLD.smallGroups, what: "semibreves stand in twos and threes only" },
  ]
}

function shapesOf(voices: readonly Voice[]): Shapes {
  const ids = {
    minims: [],
    fusae: [],
    red: [],
    blackened: [],
    cut: [],
    plicas: [],
    oldBodies: [],
    strokes: [],
    stems: [],
    coloured: [],
    faster: [],
    signs: [],
    stated: [],
  } as Record<Exclude<keyof Shapes, "notes" | "white" | "black">, SignId[]>
  let notes = 0
  for (const voice of voices)
    for (const flat of flatSigns(voice)) {
      if (flat.sign.kind === "note") notes++
      for (const kind of kindsOf(flat)) ids[kind].push(flat.sign.id)
    }
  const inks = voices.map(voice => voice.notation)
  return { notes, ...ids, white: inks.includes("white"), black: inks.includes("black") }
}

type Kind = Exclude<keyof Shapes, "notes" | "white" | "black">

function kindsOf({ sign, ligature, at }: FlatSign): Kind[] {
  if (sign.kind === "stroke") return sign.form === "bar" ? [] : ["strokes"]
  if (sign.kind === "proportion" || (sign.kind === "mark" && sign.of === "canon")) return ["faster"]
  if (sign.kind === "mensuration") {
    // what is drawn, and what the file says in words, are two things
    // signs are cut from the later fourteenth century on: on a page without minims that tells of neither older practice;
    // strokes that say what the modus is are no cut
    const cut = (sign.strokes ?? 0) > 0 && !(sign.sign && saysModus(sign.sign, sign.strokes!))
    const drawn: Kind[] = cut ? ["cut"] : sign.sign !== undefined ? ["signs"] : []
    const stated: Kind[] = sign.prolatio !== undefined || sign.tempus === 2 ? ["stated"] : []
    return [...drawn, ...stated, ...(sign.num === undefined && sign.numbase === undefined ? [] : (["faster"] as const))]
  }
  if (sign.kind !== "note") return []
  const kinds: Kind[] = []
  if (SMALL.has(sign.level ?? "")) kinds.push("minims")
  if (sign.level === "fusa" || sign.level === "semifusa") kinds.push("fusae")
  if (sign.plica !== undefined) kinds.push("plicas")
  if (sign.duplex === true || (ligature?.conjunctura === true && at === 0)) kinds.push("oldBodies")
  if (sign.level === "semibrevis" && ligature === undefined && sign.stems.some(stem => stem.direction === "down"))
    kinds.push("stems")
  if (sign.coloration !== "none") kinds.push("coloured")
  if (sign.coloration === "red") kinds.push("red")
  if (sign.coloration === "black") kinds.push("blackened")
  return kinds
}
