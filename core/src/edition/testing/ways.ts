/** For tests: conventions that write the notes in different ways, by name. */
import { CONVENTIONS, HOUSE_STYLES, type EditionConventions } from "../index.js"

const of = (name: "bars" | "overLines") => CONVENTIONS.find(one => one.name === name)!.choices.map(({ value }) => value)

/** Every bar line with every way over it, and every house style. */
export const WAYS: readonly (readonly [name: string, conventions: Partial<EditionConventions>])[] = [
  ...of("bars").flatMap(bars =>
    of("overLines").map((overLines): [string, Partial<EditionConventions>] => [
      `${bars}, ${overLines}`,
      { bars, overLines } as Partial<EditionConventions>,
    ]),
  ),
  ["whole, long finals, plicas under slurs", { bars: "between", finals: "long", plicas: "dotted-slur" }],
  ...HOUSE_STYLES.map(({ name, conventions }): [string, EditionConventions] => [`style ${name}`, conventions]),
]
