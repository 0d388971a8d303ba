/** An edited page written out: in the file's own form with all that it keeps, or in the other. */
import { newMei, printShorthand, withPage, writeMei, type Page, type Problem } from "@resolutio/core"
import type { Input } from "./input.js"
import { endingOf, save, unknownEnding, type OutputFlags } from "./output.js"
import type { Shell } from "./shell.js"

const WRITERS: Record<string, (input: Input, page: Page) => string> = {
  ".mei": ({ document }, page) => (document ? writeMei(withPage(document, page)) : newMei(page)),
  ".figurae": (_, page) => printShorthand(page),
}

/** The problem with a name to write to, before anything is done. */
export function refusedName(output: string | undefined): Problem | undefined {
  const known = output === undefined || WRITERS[endingOf(output)] !== undefined
  return known ? undefined : unknownEnding(output, Object.keys(WRITERS))
}

/** Writes the page and says so; gives the problem when it could not. */
export function saveEdited(input: Input, page: Page, flags: OutputFlags, shell: Shell): Problem | undefined {
  return save(flags, WRITERS[endingOf(flags.output)]!(input, page), shell)
}
