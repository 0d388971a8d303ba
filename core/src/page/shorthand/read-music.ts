/** A line of music: signs, ligatures, coloured stretches, remarks. */
import type { TreeCursor } from "@lezer/common"
import type { Coloration } from "../signs.js"
import { checkedAlone, checkedMembers, type Placed } from "./check-sign.js"
import { COLORATIONS } from "./properties-common.js"
import { readSign, readWritten, withProperties } from "./read-sign.js"
import { excerpt, type Reporter } from "./reporter.js"
import type { Run } from "./run.js"
import { forChildren, lookUp, readSuffix, tidy, type Suffix } from "./tokens.js"

/** Where signs and remarks go. */
export interface Target {
  /** The voice or alternative that is being read. */
  run(): Run
  comment(text: string, at: number): void
}

export class MusicReader {
  constructor(
    private readonly text: string,
    private readonly report: Reporter,
    private readonly target: Target,
  ) {}

  line(cursor: TreeCursor): void {
    forChildren(cursor, item => this.readItem(item))
  }

  private readItem(cursor: TreeCursor): void {
    switch (cursor.name) {
      case "Comment":
        return this.target.comment(commentText(this.here(cursor)), cursor.from)
      case "Ligature":
        return this.readLigature(cursor)
      case "Span":
        return this.readSpan(cursor)
      case "Stray":
        return this.reportStray(cursor)
      case "Sign": {
        const run = this.target.run()
        const written = readWritten(cursor, this.text)
        const draft = readSign(written, run.running, this.report)
        const checked = draft && checkedAlone({ draft, at: written.at }, this.report)
        if (checked) run.add(checked, written.at)
      }
    }
  }

  private readSpan(cursor: TreeCursor): void {
    const { running } = this.target.run()
    const at = cursor.from
    const before = running.coloration
    let closed = false
    forChildren(cursor, child => {
      if (child.name === "Word") running.coloration = this.colorationOf(this.here(child), at) ?? before
      else if (child.name === "CloseSpan") closed = true
      else this.readItem(child)
    })
    running.coloration = before
    if (!closed)
      this.report.error(
        at,
        "open-span",
        "This { is not closed before the end of its line.",
        "Close it with }, and open it again in the next line.",
      )
  }

  private colorationOf(word: string, at: number): Coloration | undefined {
    const coloration = lookUp(COLORATIONS, word)
    if (!coloration)
      this.report.error(
        at,
        "unknown-coloration",
        `"${excerpt(word)}" is no coloration.`,
        `Write one of these before {: ${Object.keys(COLORATIONS).join(" ")}`,
      )
    return coloration
  }

  private readLigature(cursor: TreeCursor): void {
    const run = this.target.run()
    const at = cursor.from
    const outside = run.running.level
    run.running.level = null
    const members: Placed[] = []
    const after: Placed[] = []
    const suffixes: Suffix[] = []
    let closed = false
    forChildren(cursor, child => {
      const suffix = readSuffix(child, this.text)
      if (suffix) suffixes.push(suffix)
      else if (child.name === "Sign") {
        const written = readWritten(child, this.text)
        const draft = readSign(written, run.running, this.report)
        if (draft) (MEMBERS.has(draft.kind) ? members : after).push({ draft, at: written.at })
      } else if (child.name === "Close") closed = true
      else if (child.name === "Stray") this.reportStray(child)
    })
    run.running.level = outside
    if (!closed)
      this.report.error(
        at,
        "open-ligature",
        "This ligature is not closed before the end of its line.",
        "Close it with ] after its last note.",
      )
    const ligature = withProperties({ kind: "ligature" }, suffixes, run.running, this.report)
    run.addLigature(ligature, checkedMembers(members, this.report), at)
    for (const { draft, at } of after) {
      this.report.error(
        at,
        "not-in-ligature",
        `A ${draft.kind} cannot stand inside a ligature; it was put after it.`,
        "Write it before [ or after ].",
      )
      run.add(draft, at)
    }
  }

  private reportStray(cursor: TreeCursor): void {
    const what = this.here(cursor)
    this.report.error(cursor.from, "stray", `"${excerpt(what)}" stands for nothing here.`, mendStray(what))
  }

  private here({ from, to }: { readonly from: number; readonly to: number }): string {
    return this.text.slice(from, to)
  }
}

const MEMBERS: ReadonlySet<string> = new Set(["note", "dot", "rest", "other"])

/** Without the %. */
export function commentText(written: string): string {
  return tidy(written.slice(1))
}

function mendStray(what: string): string {
  if (what === "]") return "A ligature begins with [."
  if (what === "}") return "A coloured stretch begins with its coloration and {: red{ … }."
  if (what === "(") return "Brackets follow what they explain without anything between: :supplied(resp=ed)."
  return "Take it away; a remark begins with %."
}
