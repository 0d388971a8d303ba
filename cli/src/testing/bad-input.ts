/** For tests of files that cannot be read or written: every command on them, and what must be said. */
import { readdirSync, rmSync } from "node:fs"
import { expect } from "vitest"
import { resolutio, type Folder } from "./program.js"

/** Every command on this file; a file that is written must be whole, one that is refused must not be there. */
export async function everyCommand(file: string, { at, path }: Folder) {
  const outputs = [
    at("out.mei"),
    at("out.figurae"),
    at("score.mei"),
    at("score.mid"),
    at("score.musicxml"),
    at("score.mxl"),
    at("score.csv"),
    at("draw.svg"),
    at("draw.png"),
  ]
  const commands = [
    ["read", file],
    ["read", file, "--format", "json"],
    ["read", file, "--format", "csv"],
    ["explain", file, "1 1"],
    ["decide", file, "1 1", "--duration", "2"],
    ["tenor", file, "--format", "json"],
    ["fit", file, "--format", "json"],
    ["mensuration", file, "--format", "json"],
    ...outputs.map(output => [commandFor(output), file, "-o", output]),
  ]
  const answers = []
  for (const args of commands) answers.push({ args, ...(await resolutio(args)) })
  const left = readdirSync(path)
  expect(left.filter(name => name.includes(".tmp"))).toEqual([])
  for (const output of outputs) rmSync(output, { force: true })
  return { answers, left }
}

const commandFor = (output: string): string => /\b(score|draw)\.\w+$/.exec(output)?.[1] ?? "convert"

export const NO_SENTENCE = /^\s+at |undefined|\[object|NaN|Resolutio itself has failed|root:/m

/** As messages are shown: a place with the file's name in front, and a line that says how to mend it. */
export function expectSentences(text: string, file: string) {
  expect(text).toContain(file)
  expect(text).toMatch(/\n {4}To mend it: \S.*$/m)
  expect(text).not.toMatch(NO_SENTENCE)
}

export const HEAD = `<?xml version="1.0" encoding="UTF-8"?>\n<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">`
/** An MEI file with one voice: what stands in its layer, and more attributes of its staffDef. */
export const mei = (notes: string, definition = "", head = HEAD) => `${head}
<meiHead><fileDesc><titleStmt><title>Of our own making</title></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score>
<scoreDef><staffGrp><staffDef n="1" lines="5" notationtype="mensural.white"${definition}/></staffGrp></scoreDef>
<section><staff n="1"><layer n="1">
${notes}
</layer></staff></section>
</score></mdiv></body></music></mei>
`
export const NOTES = `<note xml:id="a" dur="brevis" pname="c" oct="4"/>\n<note xml:id="b" dur="brevis" pname="d" oct="4"/>`
