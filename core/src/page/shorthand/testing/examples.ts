/**
 * The examples of a guide page: every block fenced as `figurae`. A block fenced as `reading` after it states what
 * reading it gives: one line for each voice, its label, a colon, and the durations of its notes and rests in order.
 */
export interface Example {
  /** 1-based line of the page. */
  readonly line: number
  readonly text: string
  /** By the voice's label: durations as text ("4", "4/3"). */
  readonly readings?: ReadonlyMap<string, readonly string[]>
}

export function examplesOf(page: string): Example[] {
  const found: { line: number; text: string; readings?: Map<string, string[]> }[] = []
  for (const { index, 1: language, 2: text = "" } of page.matchAll(/^```(\w+)\n(.*?)^```$/gms)) {
    const last = found.at(-1)
    if (language === "figurae") found.push({ line: page.slice(0, index).split("\n").length + 1, text })
    else if (language === "reading" && last) last.readings = readingsOf(text)
  }
  return found
}

function readingsOf(text: string): Map<string, string[]> {
  const lines = text.split("\n").filter(line => line.trim() !== "")
  return new Map(
    lines.map(line => {
      const colon = line.lastIndexOf(":")
      return [
        line.slice(0, colon).trim(),
        line
          .slice(colon + 1)
          .trim()
          .split(/\s+/),
      ]
    }),
  )
}
