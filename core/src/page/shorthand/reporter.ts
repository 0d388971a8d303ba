/** Problems of one text, each with its line and column. */
import type { Problem } from "../../base/index.js"

const MOST = 500

export class Reporter {
  private readonly lineStarts: number[] = [0]
  private readonly found: { readonly at: number; readonly problem: Problem }[] = []
  private left = 0

  constructor(
    text: string,
    private readonly file: string | undefined,
  ) {
    for (const { index, 0: end } of text.matchAll(/\r\n|\r|\n/g)) this.lineStarts.push(index + end.length)
  }

  /** Nothing of a text that has one of these can be trusted to be as the writer meant. */
  error(at: number, code: string, what: string, mend: string): void {
    this.add(at, code, what, mend, "error")
  }
  warning(at: number, code: string, what: string, mend: string): void {
    this.add(at, code, what, mend, "warning")
  }

  private add(at: number, code: string, what: string, mend: string, severity: "error" | "warning"): void {
    if (this.found.length >= MOST) {
      this.left++
      return
    }
    const line = this.lineOf(at)
    const where = {
      ...(this.file && { file: this.file }),
      line: line + 1,
      column: at - (this.lineStarts[line] ?? 0) + 1,
    }
    this.found.push({ at, problem: { code, what, where, mend, severity } })
  }

  /** In the order of the text; of very many, the first and how many more. */
  problems(): Problem[] {
    const all = this.found.sort((a, b) => a.at - b.at).map(({ problem }) => problem)
    if (this.left > 0)
      all.push({
        code: "more-problems",
        what: `There are ${this.left} more problems.`,
        mend: "Mend those above first; perhaps this is not a text in the shorthand.",
        severity: "error",
      })
    return all
  }

  private lineOf(at: number): number {
    let low = 0
    let high = this.lineStarts.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if ((this.lineStarts[middle] ?? 0) <= at) low = middle
      else high = middle - 1
    }
    return low
  }
}

/** A piece of the text for a message: short, on one line. */
export function excerpt(text: string): string {
  const flat = text.replace(/[\s\p{C}]+/gu, " ")
  return flat.length > 30 ? `${flat.slice(0, 29)}…` : flat
}
