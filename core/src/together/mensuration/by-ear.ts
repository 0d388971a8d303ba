/** A practice that the shapes leave open: the voices are read together in each that may be meant. */
import { flatSigns, type Page } from "../../page/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { inOrder, type PracticeFound } from "./practices.js"
import { costsOf, type Case } from "./ear.js"
import type { Evidence } from "./types.js"
import { weigh, type Weighed } from "./weighing.js"
import { OLD } from "./weights.js"

/** Another practice that may be meant: what is found in it, unless it is so unlikely that nobody looked. */
export interface Rival {
  readonly name: string
  readonly chance: number
  readonly weighed?: Weighed
}

export interface InPractice {
  readonly practice: PracticeFound | undefined
  readonly weighed: Weighed
  /** Undefined where no practice that measures otherwise may be meant. */
  readonly rival?: Rival
}

/** All voices weighed in the likeliest practice, and what speaks for it. */
export function weighedInPractice(
  page: Page,
  shown: PracticeFound | undefined,
  options: ReadOptions,
  told: boolean,
): InPractice {
  const under = (name: string, doubt: number): Weighed => weigh(page, { name, doubt }, options, told)
  if (shown === undefined) return { practice: shown, weighed: weigh(page, undefined, options, told) }
  const [first, second] = shown.candidates
  if (second === undefined || shown.before === undefined)
    return { practice: shown, weighed: under(shown.name, shown.doubt) }
  // white notation and Ars nova measure alike, but for their customs
  if (![first!.name, second.name].includes("ars-antiqua")) {
    const alike = { name: second.name, chance: shown.doubt / 2 }
    return { practice: shown, weighed: weigh(page, shown, options, told, alike) }
  }
  if (shown.doubt < OLD.heardFrom) {
    const rival = { name: second.name, chance: shown.doubt / 2 }
    return { practice: shown, weighed: under(shown.name, shown.doubt), rival }
  }
  const all = [first!, second].map(({ name }) => ({ name, weighed: under(name, shown.doubt) }))
  const practice = page.voices.length < 2 ? shown : heardIn(page, shown, all)
  const [own, other] = all[0]!.name === practice.name ? all : all.toReversed()
  const rival = { name: other!.name, chance: practice.doubt / 2, weighed: other!.weighed }
  return { practice, weighed: own!.weighed, rival }
}

/** The practice with what the ear says of it: the same voices are heard in both. */
function heardIn(
  page: Page,
  shown: PracticeFound,
  all: readonly { readonly name: string; readonly weighed: Weighed }[],
): PracticeFound {
  const [own, other] = costsOf(
    page,
    all.map(({ weighed }) => likeliestIn(weighed)),
  )
  const notes = notesIn(page)
  const handicap = OLD.dearerByNote * notes * (all[0]!.name === "ars-antiqua" ? 1 : -1)
  // how much dearer a practice is by the note is hardly known: more notes of the same kind do not make it surer
  const better = (other! - own! + handicap) * Math.min(1, OLD.heardNotes / Math.max(1, notes))
  const candidates = shown.candidates.map((one, i) => ({
    ...one,
    evidence: [...one.evidence, ...soundsBetter(i === 0 ? better : -better)],
  }))
  return inOrder(shown.before!, candidates)
}

const notesIn = (page: Page): number =>
  page.voices.reduce((sum, voice) => sum + flatSigns(voice).filter(({ sign }) => sign.kind === "note").length, 0)

/** The voices as they are found in a practice. */
function likeliestIn({ works, likeliest, options }: Weighed): Case {
  const divisions = works.map((one, v) => one.trials[likeliest[v] ?? -1]?.divisions)
  return { divisions, options }
}

/** The prices of two practices are no strict odds against each other, so that only a share of them is taken. */
function soundsBetter(odds: number): Evidence[] {
  const weight = Math.max(-OLD.mostByEar, Math.min(OLD.mostByEar, OLD.byEar * odds))
  if (!(Math.abs(weight) >= LEAST_TOLD)) return []
  const what = weight > 0 ? "the voices fit each other better so" : "the voices fit each other worse so"
  return [{ rule: "fit-together", signs: [], weight: Math.round(100 * weight) / 100, what }]
}

const LEAST_TOLD = 0.2
