/** Accidentals that only caution: nothing asks for them, but a singer may hesitate (common practice of editors). */
import { compare, times, type Rational } from "../base/index.js"
import type { Step } from "../page/index.js"
import { soundingAccidental, type ShownAccidental } from "./accidentals.js"
import type { Bar } from "./bars.js"
import type { ScoreEvent, ScoreNote, ScoreVoice } from "./types.js"

/** An accidental that has been seen or heard, and where. In whole notes. */
interface Inflection {
  readonly at: Rational
  readonly step: Step
  readonly accidental: string
}

/** Notes that show an accidental, as they come. */
export function inflectionsOf(
  voice: ScoreVoice,
  shown: ReadonlyMap<ScoreEvent, ShownAccidental>,
  scale: Rational,
): Inflection[] {
  return voice.events.flatMap(event => {
    if (event.kind !== "note" || !event.pitch || !shown.has(event)) return []
    return [{ at: times(event.onset, scale), step: event.pitch.step, accidental: soundingAccidental(event) }]
  })
}

interface Heard {
  readonly accidental: string
  readonly bar: number
  readonly own: boolean
}

/**
 * A note that shows no accidental gets one in parentheses
 * - where its letter was inflected otherwise in its voice, in this bar or the bar before, at any octave (also over the note,
 *   by an editor, for that note alone);
 * - with `others`, where another voice has inflected it otherwise in this bar, up to the moment at which it begins;
 * and only the first time after each inflection.
 */
export function cautionsFor(
  voice: ScoreVoice,
  { bars, scale }: { readonly bars: readonly Bar[]; readonly scale: Rational },
  shown: ReadonlyMap<ScoreEvent, ShownAccidental>,
  others: readonly Inflection[] = [],
): ReadonlyMap<ScoreEvent, ShownAccidental> {
  const cautions = new Map<ScoreEvent, ShownAccidental>()
  const heard = new Map<Step, Heard>()
  let bar = 0
  let next = 0
  for (const event of voice.events) {
    const start = times(event.onset, scale)
    for (; next < others.length && compare(others[next]!.at, start) <= 0; next++) {
      const { at, step, accidental } = others[next]!
      while (bars[bar] && compare(bars[bar]!.end, at) <= 0) bar++
      heard.set(step, { accidental, bar, own: false })
    }
    while (bars[bar] && compare(bars[bar]!.end, start) <= 0) bar++
    if (event.kind !== "note" || !event.pitch) continue
    const caution = cautionOf(event, event.pitch.step, shown.has(event))
    if (caution) cautions.set(event, caution)
  }
  return cautions

  function cautionOf(note: ScoreNote, step: Step, isShown: boolean): ShownAccidental | undefined {
    const accidental = soundingAccidental(note)
    const last = heard.get(step)
    if (isShown || last?.accidental === accidental) {
      heard.set(step, { accidental, bar, own: true })
      return undefined
    }
    if (!last || bar - last.bar > (last.own ? 1 : 0)) return undefined
    heard.delete(step)
    return { accidental, kind: "caution" }
  }
}
