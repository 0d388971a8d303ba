import type { Editorial, Page, Sign } from "../../page/index.js"

const HANDS: readonly Editorial["kind"][] = ["supplied", "supplied", "corr"]

/** For tests: notes and rests of every voice as an editor's: three of five, within ligatures too; and every dot. */
export function withHands(page: Page): Page {
  let count = 0
  const marked = <S extends Sign>(sign: S): S => {
    if (sign.kind === "ligature") return { ...sign, members: sign.members.map(marked) }
    if (sign.kind === "dot") return { ...sign, editorial: { kind: "supplied" } }
    if (sign.kind !== "note" && sign.kind !== "rest") return sign
    const kind = HANDS[count++ % 5]
    return kind === undefined ? sign : { ...sign, editorial: { kind } }
  }
  return { ...page, voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.map(marked) })) }
}
