/** Rests by length: how many spaces they fill, their names, and what each is worth. All values are read by the engine. */
import { countText } from "../../../reading/index.js"
import { readLine, type PracticeWish } from "../own-signs.js"

export interface RestColumn {
  /** In shorthand. */
  readonly written: string
  readonly name: string
  readonly spaces: string
  /** One for each row; "" where it has no length that is counted. */
  readonly worth: readonly string[]
}

export interface RestTable {
  readonly practice: PracticeWish
  /** Signs of mensuration, or the unit. */
  readonly rows: readonly string[]
  readonly columns: readonly RestColumn[]
}

interface Kind {
  readonly written: string
  readonly name: string
  readonly spaces: string
  /** Modus by which it is read. */
  readonly modus?: 2 | 3
  /** Where it stands when its worth is read: "*" is the rest. */
  readonly among?: string
}

const LATER: readonly Kind[] = [
  { written: "rL3", name: "long, perfect", spaces: "three spaces", modus: 3 },
  { written: "rL2", name: "long, imperfect", spaces: "two spaces", modus: 2 },
  { written: "rB", name: "breve", spaces: "one space" },
  { written: "rS", name: "semibreve", spaces: "hangs, half" },
  { written: "rM", name: "minim", spaces: "stands, half" },
  { written: "rSm", name: "semiminim", spaces: "with a hook" },
  { written: "rF", name: "fusa", spaces: "with two hooks" },
]
const EARLIER: readonly Kind[] = [
  { written: "r3", name: "perfect long", spaces: "three spaces" },
  { written: "r2", name: "imperfect long", spaces: "two spaces" },
  { written: "r1", name: "breve", spaces: "one space" },
  { written: "r2/3", name: "greater semibreve", spaces: "two thirds", among: "L o S o * L o" },
  { written: "r1/3", name: "lesser semibreve", spaces: "one third", among: "L o * S o L o" },
  { written: "finis", name: "finis punctorum", spaces: "all spaces" },
]
export const USUAL_SIGNS = ["O.", "O", "C.", "C"]

/** What rests are worth in a practice, under these signs of mensuration; in the thirteenth century in tempora. */
export function restTable(practice: PracticeWish, signs: readonly string[] = USUAL_SIGNS): RestTable {
  if (practice.name === "ars-antiqua") {
    const columns = EARLIER.map(kind => ({
      ...kind,
      worth: [worthOf(practice, (kind.among ?? "L o * L o").replace("*", kind.written))],
    }))
    return { practice, rows: ["tempora"], columns }
  }
  const columns = LATER.map(kind => ({
    ...kind,
    worth: signs.map(sign =>
      worthOf(practice, `${sign}${kind.modus ? `:modus=${kind.modus}` : ""} ${kind.written} L o o`),
    ),
  }))
  return { practice, rows: signs, columns }
}

function worthOf(practice: PracticeWish, line: string): string {
  const rest = readLine(practice, line).signs.find(one => one.kind === "rest")
  return rest ? countText(rest.duration) : ""
}
