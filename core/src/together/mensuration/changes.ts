/** Stretches of a voice that another mensuration foretells much better: proposals for a change that the file does not state. */
import type { Divisions } from "../../practices/index.js"
import { foretoldIn, type Counting, type Trial } from "./candidates.js"
import { sameDivisions } from "./measures.js"
import { mensurationInWords } from "./words.js"
import type { Token } from "./tokens.js"
import type { FoundChange } from "./types.js"
import { CHANGE, TEMPER } from "./weights.js"

/** Where a change is cheap: the page cuts the voice, or the ink changes. */
function priceBefore(tokens: readonly Token[], t: number): number {
  const cheap = tokens[t]!.opens || tokens[t]!.coloured !== tokens[t - 1]!.coloured
  return cheap ? CHANGE.atSection : CHANGE.anywhere
}

/** Changes in the first section of the voice (what signs state later is theirs), read by `chosen` as a whole. */
export function changesIn(counting: Counting, trials: readonly Trial[], chosen: Divisions): FoundChange[] {
  const section = counting.sections[0]
  if (section === undefined || section.stated.size > 0) return []
  const { tokens } = section
  const rivals = trials.filter(one => one.divisions.modusMaior === chosen.modusMaior)
  const base = rivals.findIndex(one => sameDivisions(one.divisions, chosen))
  if (base < 0 || tokens.length < 2 * CHANGE.leastTokens) return []
  return stretchesOf(bestPath(tokens, rivals, base))
    .filter(one => one.trial !== base && one.to - one.from >= CHANGE.leastTokens)
    .flatMap(one => proposal(counting, tokens, rivals[one.trial]!.divisions, chosen, one))
}

/** By token the trial that is in force, changes paid for. */
function bestPath(tokens: readonly Token[], trials: readonly Trial[], base: number): number[] {
  const steps = trials.map(one => one.foretold[0]!.steps)
  const back: Int32Array[] = []
  let gain = steps.map((own, c) => own[0]! - (c === base ? 0 : CHANGE.atSection))
  for (let t = 1; t < tokens.length; t++) {
    const best = gain.reduce((b, one, c) => (one > gain[b]! ? c : b), 0)
    const price = priceBefore(tokens, t)
    const from = new Int32Array(trials.length)
    gain = gain.map((stay, c) => {
      const turn = gain[best]! - price
      from[c] = turn > stay ? best : c
      return Math.max(stay, turn) + steps[c]![t]!
    })
    back.push(from)
  }
  let at = gain.reduce((b, one, c) => (one > gain[b]! ? c : b), 0)
  const path = [at]
  for (let t = back.length - 1; t >= 0; t--) path.push((at = back[t]![at]!))
  return path.reverse()
}

interface Stretched {
  readonly trial: number
  readonly from: number
  readonly to: number
}

function stretchesOf(path: readonly number[]): Stretched[] {
  const found: Stretched[] = []
  for (let t = 0; t < path.length;) {
    let to = t
    while (path[to] === path[t]) to++
    found.push({ trial: path[t]!, from: t, to })
    t = to
  }
  return found
}

/** The stretch is weighed again by itself, counted from its first note. */
function proposal(
  counting: Counting,
  tokens: readonly Token[],
  divisions: Divisions,
  chosen: Divisions,
  { from, to }: Stretched,
): FoundChange[] {
  const part = tokens.slice(from, to)
  const fit = foretoldIn(part, divisions, counting).total - foretoldIn(part, chosen, counting).total
  if (fit < CHANGE.least) return []
  const first = part[0]!
  const last = part.at(-1)!
  const doubt = Math.min(1, 2 / (1 + Math.exp(TEMPER * fit - CHANGE.before)))
  const end = to < tokens.length ? ` to ${last.number}` : " on"
  return [
    {
      from: first.id,
      place: first.number,
      ...(to < tokens.length ? { until: tokens[to]!.id } : {}),
      divisions,
      fit: Math.round(fit * 100) / 100,
      doubt,
      what: `From ${first.number}${end} the notes rather go by ${mensurationInWords(divisions)}.`,
    },
  ]
}
