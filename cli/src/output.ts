/** `-o NAME`: what is asked for is told by the name's ending. */
import { extname } from "node:path"
import type { Problem } from "@resolutio/core"
import { writeWhole } from "./files.js"
import { either } from "./messages.js"
import { plain, type Shell } from "./shell.js"

export interface OutputFlags {
  readonly output: string
  readonly force?: boolean
}

/** ".mei", in small letters. */
export const endingOf = (name: string): string => extname(name).toLowerCase()

export function unknownEnding(name: string, endings: readonly string[]): Problem {
  return {
    code: "unknown-ending",
    what: `It cannot be told from the name “${name}” what to write.`,
    where: { place: "-o" },
    mend: `Let the name end in ${either(endings)}.`,
    severity: "error",
  }
}

/** Writes the file and says so; gives the problem when it could not. */
export function save({ output, force }: OutputFlags, content: string | Uint8Array, shell: Shell): Problem | undefined {
  const problem = writeWhole(output, content, force)
  if (!problem) shell.err(`Written: ${plain(output)}`)
  return problem
}

/** Says what a written form leaves out: sentences of the core. */
export function tellLosses(sentences: readonly string[], shell: Shell): void {
  if (sentences.length === 0) return
  shell.err("It does not carry:")
  for (const sentence of sentences) shell.err(`  - ${plain(sentence)}`)
}
