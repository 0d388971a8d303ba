/** Signs of the page that last nothing, placed in time: each where the note or rest that follows it begins. */
import { ZERO, type Rational, type SignId } from "../base/index.js"
import { modernAccidental } from "./accidentals.js"
import type { Lengthless, VoiceFacts } from "./facts.js"
import type { ScoreVoice } from "./types.js"

export type PlacedSigns = Pick<ScoreVoice, "signatures" | "marks" | "signs" | "breaks" | "strokes">

/** `starts`: onsets by the id of the note or rest; `end`: where the voice ends; `signOf`: the page's sign of an id. */
export function placedSigns(
  { lengthless }: VoiceFacts,
  starts: ReadonlyMap<SignId, Rational>,
  end: Rational,
  signOf: (id: SignId) => SignId,
): PlacedSigns {
  const first = [...starts.keys()][0]
  const placed = lengthless.map(({ before, sign }) => ({
    sign,
    before: before ?? null,
    // a voice that enters later has its signs at the beginning all the same
    onset: before !== undefined && before === first ? ZERO : ((before && starts.get(before)) ?? end),
  }))
  const of = <K extends Lengthless["kind"]>(...kinds: readonly K[]) =>
    placed.flatMap(({ sign, ...at }) =>
      (kinds as readonly string[]).includes(sign.kind)
        ? [{ ...at, written: sign as Extract<Lengthless, { kind: K }> }]
        : [],
    )
  return {
    signatures: of("signature").map(({ onset, written: { initial, accidentals } }) => ({
      onset: initial ? ZERO : onset,
      accidentals: accidentals.map(one => ({ ...one, accidental: modernAccidental(one.step, one.accidental) })),
    })),
    marks: of("mark").map(({ onset, written }) => ({
      id: written.id,
      sign: signOf(written.id),
      onset,
      of: written.of,
      ...(written.text === undefined ? {} : { text: written.text }),
    })),
    signs: of("mensuration", "proportion"),
    breaks: of("break"),
    strokes: of("stroke"),
  }
}
