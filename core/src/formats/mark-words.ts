/** What a mark without length says in words, over the notes. */
import type { ScoreMark } from "../score/index.js"

/** Undefined for marks that are drawn, or make bar lines. */
export function markWords({ of, text }: ScoreMark): string | undefined {
  switch (of) {
    case "canon":
    case "text":
    case "numeral":
      return text === "" ? undefined : text
    case "refrain-start":
      return text || "Refrain"
    case "refrain-end":
      return text || "End of the refrain"
    default:
      return undefined
  }
}
