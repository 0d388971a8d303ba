/** Short voices typed as letters: "B S . -S M L*" is a breve, a semibreve with a dot, a rest, a minim, a coloured long. */
import { signId, voiceId } from "../../base/index.js"
import { ABBREVIATIONS, LEVELS, type Level, type Sign, type Voice } from "../../page/index.js"

export interface LetterOptions {
  readonly practice: string
  readonly options?: Readonly<Record<string, string>>
  /** Modus maior, modus minor, tempus, prolatio. */
  readonly divisions?: readonly [2 | 3, 2 | 3, 2 | 3, 2 | 3]
}

const LEVEL_OF = new Map<string, Level>(LEVELS.map(level => [ABBREVIATIONS[level], level]))

/** The voice; "|" is a small stroke (divisio modi), "LD" a double long. */
export function voiceOfLetters(text: string, options: LetterOptions): Voice {
  const words = text.split(" ").filter(word => word !== "")
  const signs = words.map((word, i) => signOfLetters(word, `s${i + 1}`))
  return {
    id: voiceId("letters"),
    n: "1",
    label: "letters",
    lines: 5,
    notation: options.practice === "white" ? "white" : "black",
    practice: { name: options.practice, options: options.options ?? {} },
    signs: options.divisions ? [mensuration(options.divisions), ...signs] : signs,
  }
}

function mensuration([modusMaior, modusMinor, tempus, prolatio]: readonly (2 | 3)[]): Sign {
  return { kind: "mensuration", id: signId("m"), initial: true, modusMaior, modusMinor, tempus, prolatio }
}

function signOfLetters(word: string, name: string): Sign {
  const id = signId(name)
  if (word === ".") return { kind: "dot", id }
  if (word === "|") return { kind: "stroke", id, form: "divisio-modi" }
  const duplex = word === "LD"
  const level = LEVEL_OF.get(duplex ? "L" : word.replaceAll(/[-*]/g, ""))
  if (level === undefined) throw new Error(`"${word}" is no level, rest, dot or stroke`)
  if (word.startsWith("-")) return { kind: "rest", id, level, coloration: "none" }
  const coloration = word.endsWith("*") ? "other" : "none"
  return { kind: "note", id, level, coloration, stems: [], syllables: [], ...(duplex ? { duplex } : {}) }
}
