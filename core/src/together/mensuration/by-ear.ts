/** A practice that the shapes leave open: the voices are read together in each that may be meant. */
import { flatSigns, type Page } from "../../page/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { inOrder, type PracticeFound } from "./practices.js"
import { costsUnder } from "./ear.js"
import type { Evidence } from "./types.js"
import { weigh, type Weighed } from "./weighing.js"
import { OLD } from "./weights.js"

/** All voices weighed in the likeliest practice, and what speaks for it. */
export function weighedInPractice(
  page: Page,
  shown: PracticeFound | undefined,
  options: ReadOptions,
  told: boolean,
): { readonly practice: PracticeFound | undefined; readonly weighed: Weighed } {
  const under = (name: string, doubt: number): Weighed => weigh(page, { name, doubt }, options, told)
  if (shown === undefined) return { practice: shown, weighed: weigh(page, undefined, options, told) }
  const [first, second] = shown.candidates
  // white notation and Ars nova are read so much alike that hearing both would tell little
  const differ = second !== undefined && [first!.name, second.name].includes("ars-antiqua")
  if (!differ || shown.before === undefined || shown.doubt < OLD.heardFrom || page.voices.length < 2)
    return { practice: shown, weighed: under(shown.name, shown.doubt) }
  const all = [first!, second].map(({ name }) => ({ name, weighed: under(name, shown.doubt) }))
  const [own, other] = all.map(({ weighed }) => costOf(page, weighed))
  const handicap = OLD.dearerByNote * notesIn(page) * (first!.name === "ars-antiqua" ? 1 : -1)
  const better = other! - own! + handicap
  const practice = inOrder(
    shown.before,
    shown.candidates.map((one, i) => ({
      ...one,
      evidence: [...one.evidence, ...soundsBetter(i === 0 ? better : -better)],
    })),
  )
  return { practice, weighed: all.find(one => one.name === practice.name)!.weighed }
}

const notesIn = (page: Page): number =>
  page.voices.reduce((sum, voice) => sum + flatSigns(voice).filter(({ sign }) => sign.kind === "note").length, 0)

/** What the voices cost as they are found in a practice. */
function costOf(page: Page, { works, chances, heard, options }: Weighed): number {
  if (heard !== undefined) return Math.min(...heard.costs.map(one => one.cost))
  const likeliest = works.map(({ trials }, v) => trials[chances[v]!.indexOf(Math.max(...chances[v]!))]?.divisions)
  return costsUnder(page, [likeliest], options)[0]!
}

/** The prices of two practices are no strict odds against each other, so that only a share of them is taken. */
function soundsBetter(odds: number): Evidence[] {
  const weight = Math.max(-OLD.mostByEar, Math.min(OLD.mostByEar, OLD.byEar * odds))
  if (!(Math.abs(weight) >= LEAST_TOLD)) return []
  const what = weight > 0 ? "the voices fit each other better so" : "the voices fit each other worse so"
  return [{ rule: "fit-together", signs: [], weight: Math.round(100 * weight) / 100, what }]
}

const LEAST_TOLD = 0.2
