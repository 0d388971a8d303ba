/** How long a voice is under the mensurations that may be right, by the rules themselves. */
import { toText } from "../../base/index.js"
import type { Voice } from "../../page/index.js"
import { readVoice, type Reading } from "../../reading/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import type { Trial } from "./candidates.js"
import { LENGTHS } from "./weights.js"

/**
 * By trial: unit and time up to the final, as the voice read by itself has it. Only likely trials are looked at, and
 * only where there is a choice; those that no note tells apart share their length.
 */
export function lengthsUnder(
  voice: Voice,
  options: ReadOptions,
  trials: readonly Trial[],
  chances: readonly number[],
): (string | undefined)[] {
  const lengths = trials.map((): string | undefined => undefined)
  const order = trials.map((_, c) => c).sort((a, b) => chances[b]! - chances[a]!)
  const known: { readonly trial: Trial; readonly length: string }[] = []
  for (const c of order) {
    if (chances[c]! < LENGTHS.leastChance) break
    const trial = trials[c]!
    const same = known.find(one => one.trial.foretold.every((part, i) => part === trial.foretold[i]))
    if (same === undefined && known.length >= LENGTHS.most) continue
    const length = same?.length ?? lengthUnder(voice, options, trial)
    if (same === undefined) known.push({ trial, length })
    lengths[c] = length
  }
  return lengths
}

function lengthUnder(voice: Voice, options: ReadOptions, { divisions }: Trial): string {
  const before = options.assumed?.get(voice.id)
  const assumed = new Map([[voice.id, { ...before, divisions: { ...divisions, doubt: 0 } }]])
  return lengthOf(readVoice(voice, { ...options, assumed }))
}

function lengthOf({ unit, signs, duration }: Reading): string {
  const last = signs.findLast(sign => sign.kind === "note" || sign.kind === "rest")
  return `${unit} ${toText(last?.kind === "note" ? last.onset : duration)}`
}
