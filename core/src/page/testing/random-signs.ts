/** Random signs that last no time. */
import * as fc from "fast-check"
import type {
  AccidentalSign,
  Break,
  Clef,
  Comment,
  Custos,
  Mark,
  MensurationSign,
  Other,
  Proportion,
  Sign,
  Signature,
  Stroke,
} from "../signs.js"
import { accidental, common, halves, id, level, loc, number, pick, pitch, text, type Names } from "./random-parts.js"
import { dot } from "./random-figurae.js"

const whole = (max: number) => fc.integer({ min: 1, max })

const clefParts = {
  kind: fc.constant("clef" as const),
  id,
  shape: fc.constantFrom<Clef["shape"][]>("C", "F", "G", "GG"),
  line: whole(5),
}
const clef = (names: Names) => pick<Clef>(clefParts, { octaveShift: fc.constantFrom(-2, -1, 1), ...common(names) })

const degrees = fc.uniqueArray(
  pick<Signature["accidentals"][number]>(
    { step: pitch.map(one => one.step), accidental },
    { octave: fc.integer({ min: 2, max: 5 }) },
  ),
  { maxLength: 2, selector: one => one.step },
)
const signature = (names: Names) =>
  pick<Signature>({ kind: fc.constant("signature"), id, accidentals: degrees }, common(names))

const parts = fc.constantFrom<(2 | 3)[]>(2, 3)
const levels = { modusMaior: parts, modusMinor: parts, tempus: parts, prolatio: parts }
const mensuration = (names: Names): fc.Arbitrary<MensurationSign> =>
  fc.oneof(
    pick<MensurationSign>(
      { kind: fc.constant("mensuration"), id, sign: fc.constantFrom("O", "C") },
      {
        dots: whole(3),
        strokes: whole(2),
        reversed: fc.constant(true),
        figures: fc.array(whole(9), { minLength: 1, maxLength: 3 }),
        shape: fc.constantFrom(...names.shapes),
        ...levels,
        ...common(names),
      },
    ),
    pick<MensurationSign>(
      {
        kind: fc.constant("mensuration"),
        id,
        sign: fc.constantFrom("O", "C"),
        orientation: fc.constantFrom("90CW", "90CCW"),
      },
      levels,
    ),
    pick<MensurationSign>(
      {
        kind: fc.constant("mensuration"),
        id,
        letter: fc.constantFrom("t", "q", "i", "sg", "sy", "p", "o", "n", "d", "b", "z"),
      },
      common(names),
    ),
    pick<MensurationSign>({ kind: fc.constant("mensuration"), id, tempus: parts }, { ...levels, ...common(names) }),
    pick<MensurationSign>(
      { kind: fc.constant("mensuration"), id, num: whole(5), numbase: whole(5) },
      { level, sign: fc.constantFrom("O", "C"), ...common(names) },
    ),
  )

const proportion = (names: Names) =>
  pick<Proportion>({ kind: fc.constant("proportion"), id, num: whole(9) }, { numbase: whole(9), ...common(names) })
const stroke = (names: Names) =>
  pick<Stroke>(
    {
      kind: fc.constant("stroke"),
      id,
      form: fc.constantFrom(
        "divisio-modi",
        "signum-perfectionis",
        "signum-rotundum",
        "divisio-syllabarum",
        "suspirium",
        "finis-punctorum",
        "bar",
      ),
    },
    { length: halves, loc, near: fc.constantFrom("previous", "next"), ...common(names) },
  )
const alone = (names: Names) =>
  pick<AccidentalSign>(
    { kind: fc.constant("accidental"), id, accidental },
    { pitch, byEditor: fc.constant(true), ...common(names) },
  )
const custos = (names: Names) => pick<Custos>({ kind: fc.constant("custos"), id }, { pitch, ...common(names) })
const breaks = (names: Names) =>
  pick<Break>(
    { kind: fc.constant("break"), id, of: fc.constantFrom("folio", "column", "line") },
    { n: number, ...common(names) },
  )
const MARKS = [
  "signum-congruentiae",
  "repeat-start",
  "repeat-end",
  "ending-open",
  "ending-closed",
  "refrain-start",
  "refrain-end",
  "canon",
  "text",
  "section",
  "numeral",
] as const
const mark = (names: Names) =>
  pick<Mark>({ kind: fc.constant("mark"), id, of: fc.constantFrom(...MARKS) }, { text, ...common(names) })
const comment = (names: Names) => pick<Comment>({ kind: fc.constant("comment"), id, text }, common(names))
const other = (names: Names) =>
  pick<Other>({ kind: fc.constant("other"), id, name: fc.constantFrom("handShift", "gap", "artic") }, common(names))

/** Any sign but a note, a rest and a ligature. */
export function otherSign(names: Names): fc.Arbitrary<Sign> {
  return fc.oneof(
    dot(names),
    dot(names),
    stroke(names),
    mensuration(names),
    mensuration(names),
    proportion(names),
    clef(names),
    signature(names),
    alone(names),
    custos(names),
    breaks(names),
    mark(names),
    mark(names),
    comment(names),
    other(names),
  )
}

/** What stands before the first sign of a voice: clef, signature, mensuration, in this order, any of them missing. */
export function initialSigns(names: Names): fc.Arbitrary<Sign[]> {
  const bare = <T extends Sign>(sign: T): T => {
    const { editorial: _, zone: __, extra: ___, ...rest } = sign
    return { ...rest, initial: true } as unknown as T
  }
  const maybe = <T extends Sign>(sign: fc.Arbitrary<T>) => fc.option(sign.map(bare), { nil: undefined, freq: 3 })
  return fc
    .tuple(maybe(clef(names)), maybe(signature(names)), maybe(mensuration(names)))
    .map(all => all.filter(one => one !== undefined))
}
