/** Random canons and orders of parts, as an editor may state them. */
import * as fc from "fast-check"
import { ratio } from "../../base/index.js"
import type { Canon, CanonEntry, CanonSign, CanonStatement, CanonVoice } from "../canon.js"
import type { FormStep } from "../form.js"
import { LEVELS } from "../level.js"
import { pick, text } from "./random-parts.js"

const number = fc.integer({ min: 1, max: 12 })
const fraction = fc.constantFrom(ratio(1, 2), ratio(2), ratio(3, 2), ratio(1, 3), ratio(1))

const sign = pick<CanonSign>(
  { sign: fc.constantFrom("O", "C") },
  {
    dots: fc.constantFrom(1, 3),
    strokes: fc.constantFrom(1, 2),
    figures: fc.constantFrom([2], [3], [3, 2]),
    reversed: fc.constant(true),
  },
)

const statement = pick<CanonStatement>(
  {},
  {
    values: fraction,
    sign,
    backwards: fc.constant(true),
    inverted: fc.constant(true),
    withoutRests: fc.constant(true),
    until: number,
  },
)

const entry: fc.Arbitrary<CanonEntry> = fc.oneof(
  number.map(signum => ({ signum })),
  fraction.map(after => ({ after })),
  fc.tuple(number, fc.constantFrom(...LEVELS)).map(([count, level]) => ({ after: ratio(count), level })),
)

const voice = pick<CanonVoice>(
  { statements: fc.array(statement, { minLength: 1, maxLength: 3 }) },
  {
    label: text.filter(label => label !== ""),
    entry,
    interval: fc.constantFrom(5, -5, 8, -8, 2, -11, 4),
    steps: fc.constantFrom("exact", "diatonic"),
  },
)

export const canon: fc.Arbitrary<Canon> = fc.array(voice, { minLength: 1, maxLength: 4 })

export const form: fc.Arbitrary<FormStep[]> = fc.array(
  pick<FormStep>({ part: fc.constantFrom("A", "B", "Z") }, { stanza: number }),
  { minLength: 1, maxLength: 8 },
)
