/** For tests: PDFs read by programs that are not ours (poppler-utils of the system); skipped, loudly, where they are not there. */
import { execFileSync } from "node:child_process"
import { existsSync } from "node:fs"

const FOLDER = "/usr/bin"

/** False, and a line on the console, where the programs are missing. */
export const popplerIsThere = existsSync(`${FOLDER}/pdftotext`)
if (!popplerIsThere)
  console.warn(
    "SKIPPED: pdftotext is not there; install poppler-utils (on Debian: sudo apt-get install poppler-utils) to check the PDFs.",
  )

const run = (program: string, ...args: string[]): string =>
  execFileSync(`${FOLDER}/${program}`, args, { encoding: "utf8", maxBuffer: 64 * 1024 * 1024 })

/** All text, page by page. */
export function pagesOf(file: string): string[] {
  const pages = run("pdftotext", file, "-").split("\f")
  return pages.slice(0, -1).map(page => page.replace(/\s+/g, " ").trim())
}
/** Lines of text as they stand on the first page. */
export const firstLinesOf = (file: string): string[] =>
  run("pdftotext", "-l", "1", "-layout", file, "-")
    .split(/\s*\n\s*/)
    .filter(Boolean)
/** What stands before the colon, and behind it. */
export function infoOf(file: string): Map<string, string> {
  const lines = run("pdfinfo", file).split("\n")
  return new Map(lines.map(line => [line.split(":")[0]!, line.slice(line.indexOf(":") + 1).trim()]))
}
export interface PdfFont {
  readonly name: string
  readonly embedded: boolean
  /** Its letters can be searched. */
  readonly unicode: boolean
}
export function fontsOf(file: string): PdfFont[] {
  const rows = run("pdffonts", file).split("\n").slice(2).filter(Boolean)
  return rows.map(row => {
    const found = /^(\S+).*?\s(yes|no)\s+(yes|no)\s+(yes|no)\s+\d+\s+\d+$/.exec(row)!
    return { name: found[1]!.replace(/^[A-Z]+\+/, ""), embedded: found[2] === "yes", unicode: found[4] === "yes" }
  })
}
/** Bookmarks with their pages, inner ones with a dash in front. */
export function bookmarksOf(file: string): string[] {
  const text = run("pdftohtml", "-xml", "-stdout", "-i", file)
  const [, outline = ""] = /<outline>([\s\S]*)<\/outline>/.exec(text) ?? []
  let depth = 0
  return outline.split("\n").flatMap(line => {
    if (line.startsWith("<outline>")) depth++
    if (line.startsWith("</outline>")) depth--
    const item = /<item page="(\d+)">(.*)<\/item>/.exec(line)
    return item ? [`${"- ".repeat(depth)}${item[2]} ${item[1]}`] : []
  })
}
/** Kinds and texts of the structure that readers aloud go by. */
export const structureOf = (file: string): string => run("pdfinfo", "-struct-text", file)

/** Where ink reaches on each page of a PDF, in parts of its width and height. */
export function inkOf(file: string): { left: number; right: number; top: number; bottom: number }[] {
  const picture = execFileSync(`${FOLDER}/pdftoppm`, ["-r", "30", "-gray", file], { maxBuffer: 256 * 1024 * 1024 })
  const pages: ReturnType<typeof inkOf> = []
  for (let at = 0; at < picture.length;) {
    const [head, width, height] = /^P5\s+(\d+)\s+(\d+)\s+\d+\s/.exec(picture.toString("latin1", at, at + 40))!
    const [w, h] = [Number(width), Number(height)]
    pages.push(inkIn(picture.subarray(at + head.length, at + head.length + w * h), w, h))
    at += head.length + w * h
  }
  return pages
}

function inkIn(grey: Uint8Array, width: number, height: number) {
  let [left, right, top, bottom] = [width, 0, height, 0]
  grey.forEach((value, i) => {
    if (value > 160) return
    const [x, y] = [i % width, Math.floor(i / width)]
    ;[left, right, top, bottom] = [Math.min(left, x), Math.max(right, x + 1), Math.min(top, y), Math.max(bottom, y + 1)]
  })
  return { left: left / width, right: right / width, top: top / height, bottom: bottom / height }
}
