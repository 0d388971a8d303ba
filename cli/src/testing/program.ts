/** For tests of the command line: the program, run in this process, on files in a folder that is gone after each test. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterEach, beforeEach } from "vitest"
import { run } from "../program.js"

/** What the program answered; `out` and `err` without the last line end. */
export interface Answer {
  readonly status: number
  readonly out: string
  readonly err: string
}

/** Runs it on these arguments, as on a terminal of `columns` characters or with its output going elsewhere. */
export async function resolutio(args: readonly string[], columns?: number): Promise<Answer> {
  const out: string[] = []
  const err: string[] = []
  const shell = {
    out: (text: string) => void out.push(text),
    err: (text: string) => void err.push(text),
    colour: false,
    columns,
  }
  const status = await run(args, shell)
  return { status, out: out.join("\n"), err: err.join("\n") }
}

export interface Folder {
  readonly path: string
  /** The path of a file in it. */
  readonly at: (name: string) => string
  /** Writes a file into it; gives its path. */
  readonly save: (name: string, content: string | Uint8Array) => string
  readonly text: (name: string) => string
}

/** A new folder for each test of the file, with these files in it. */
export function folderWith(files: Readonly<Record<string, string>> = {}): Folder {
  let path = ""
  const at = (name: string) => join(path, name)
  const save = (name: string, content: string | Uint8Array) => {
    writeFileSync(at(name), content)
    return at(name)
  }
  beforeEach(() => {
    path = mkdtempSync(join(tmpdir(), "resolutio-"))
    for (const [name, content] of Object.entries(files)) save(name, content)
  })
  afterEach(() => rmSync(path, { recursive: true, force: true }))
  return {
    get path() {
      return path
    },
    at,
    save,
    text: name => readFileSync(at(name), "utf8"),
  }
}
