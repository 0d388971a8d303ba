/** What stands on a page for those who read it, not for those who sing it: foreign signs, remarks, levels stated in words. */
import type { Comment, MensurationSign, Other } from "../../page/index.js"
import type { Mark, TextMark } from "../scene/scene.js"
import { UNSEEN, drawn, inked, yOf, type Drawn, type SignStyle } from "./drawn.js"
import { polygonOutline, reversed } from "./outline.js"

/** A small open lozenge in second ink on the middle of the staff: no form is known, but here it stands. */
export function drawOther(_other: Other, { lines }: SignStyle): Drawn {
  const y = yOf(lines - 1)
  const lozenge = (half: number) =>
    polygonOutline([
      [0.42 - half, y],
      [0.42, y - half],
      [0.42 + half, y],
      [0.42, y + half],
    ])
  return drawn([inked("other", [...lozenge(0.42), ...reversed(lozenge(0.27))], "second")])
}

/** Small words over the staff, in second ink. They take no room on it. */
export function noteOver(part: string, text: string, { lines }: SignStyle): TextMark {
  const type = { family: "figures", size: 1.15 } as const
  return { shape: "text", part, x: 0, y: yOf(2 * (lines - 1)) - 1.2, text, type, fill: "second" }
}

export function drawComment({ text }: Comment, style: SignStyle): Drawn {
  const words = text.trim().replace(/\s+/g, " ")
  return words === "" ? UNSEEN : over(noteOver("remark", words, style))
}

const over = (mark: Mark): Drawn => ({ ...UNSEEN, content: [mark] })

/** Levels that are stated without a sign, as an editor would put them. */
export function drawLevels(sign: MensurationSign, style: SignStyle): Drawn {
  const words = [
    levelWords("modus maior", sign.modusMaior),
    levelWords("modus", sign.modusMinor),
    levelWords("tempus", sign.tempus),
    sign.prolatio === undefined ? [] : [`prolation ${sign.prolatio === 3 ? "major" : "minor"}`],
  ].flat()
  return words.length === 0 ? UNSEEN : over(noteOver("levels", `[${words.join(" · ")}]`, style))
}
const levelWords = (name: string, parts: 2 | 3 | undefined): string[] =>
  parts === undefined ? [] : [`${name} ${parts === 3 ? "perfect" : "imperfect"}`]
