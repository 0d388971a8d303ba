/** The demo pieces: what they were composed to be, and that both written forms say it. */
import { readFileSync, readdirSync } from "node:fs"
import { fileURLToPath } from "node:url"
import {
  equals,
  fitOf,
  parseShorthand,
  printShorthand,
  readMei,
  readPage,
  soundingOf,
  toText,
  type Page,
  type Reading,
} from "@resolutio/core"
import { describe, expect, test } from "vitest"
import { mensuralSchema } from "../core/src/formats/mei/testing/standards.js"
import { discordsAt, durationsOf, perfectionsOf, totalOf } from "./counterpoint.js"
import { PIECES, type DemoPiece } from "./pieces.js"

const folder = fileURLToPath(new URL(".", import.meta.url))
const text = (file: string): string => readFileSync(folder + file, "utf8")

/** The most doubt of a note that counts as sure, and how many notes of a piece must be. */
const SURE = 0.05
const SURE_SHARE = 0.85

test("every piece of the folder is in the list, in both forms, and in the readme", () => {
  const files = readdirSync(folder).filter(name => /\.(figurae|mei)$/.test(name))
  expect(files.sort()).toEqual(PIECES.flatMap(({ name }) => [`${name}.figurae`, `${name}.mei`]).sort())
  for (const { name } of PIECES) expect(text("README.md")).toContain(name)
})

describe.each(PIECES)("$name", piece => {
  const { page, readings } = shorthandOf(piece)
  const sounding = soundingOf(page, readings).readings

  test("reads without a problem, as it was meant", () => {
    expect(readings.flatMap(reading => reading.problems)).toEqual([])
    const meant = Object.fromEntries(Object.entries(piece.durations).map(([voice, line]) => [voice, onOneLine(line)]))
    expect(Object.fromEntries(readings.map(one => [one.label, durationsOf(one, piece.beat)]))).toEqual(meant)
  })

  test("its voices end together, and each lasts what its signs add up to", () => {
    expect(fitOf(readings)).toMatchObject({ together: true, firstParting: null })
    for (const one of readings) expect(toText(one.duration)).toBe(toText(totalOf(piece.durations[one.label]!)))
    // a part that is sung several times, or by several voices, is shorter than what comes of it
    const plain = readings.every(({ canon }) => canon === undefined)
    expect(readings.every(one => equals(one.duration, readings[0]!.duration))).toBe(plain || readings.length === 1)
  })

  test("shows what it is there for", () => {
    const found = new Set(readings.flatMap(one => one.signs.flatMap(sign => [sign.rule, ...sign.also])))
    expect(piece.rules.filter(rule => !found.has(rule))).toEqual([])
  })

  test("is consonant where perfections begin", () => {
    expect(discordsOf(piece, sounding)).toEqual([])
  })

  test("is not so with one voice a step too high", () => {
    for (const wrong of sounding)
      expect(
        discordsOf(
          piece,
          sounding.map(one => (one === wrong ? aStepHigher(one) : one)),
        ),
        wrong.label,
      ).not.toEqual([])
  })

  test("leaves few notes in doubt", () => {
    const notes = readings.flatMap(one => one.signs.filter(sign => sign.kind === "note" && !sign.held))
    const sure = notes.filter(note => note.doubt <= SURE)
    expect(sure.length / notes.length).toBeGreaterThanOrEqual(SURE_SHARE)
  })

  test("is the same page in its other form", () => {
    const mei = readMei(text(`${piece.name}.mei`))
    if (!mei.ok) throw new Error(mei.problems.map(problem => problem.what).join("\n"))
    expect(mei.problems).toEqual([])
    expect(printShorthand(mei.value.page)).toBe(printShorthand(page))
    expect(summaryOf(readPage(mei.value.page))).toEqual(summaryOf(readings))
  })
})

const schema = mensuralSchema()
describe.skipIf(schema === undefined)("valid by the schema of mensural notation", () => {
  test("every piece", async () => {
    const errors = await schema!.using(validate => PIECES.map(({ name }) => [name, validate(text(`${name}.mei`))]))
    expect(errors).toEqual(PIECES.map(({ name }) => [name, []]))
  })
})

function shorthandOf({ name }: DemoPiece): { page: Page; readings: readonly Reading[] } {
  const parsed = parseShorthand(text(`${name}.figurae`))
  if (!parsed.ok || parsed.problems.length > 0) throw new Error(parsed.problems.map(problem => problem.what).join("\n"))
  return { page: parsed.value, readings: readPage(parsed.value) }
}

function onOneLine(line: string): string {
  return line.trim().split(/\s+/).join(" ")
}

function discordsOf(piece: DemoPiece, readings: readonly Reading[]): string[] {
  const counted = readings.filter(one => piece.counted.includes(one.label))
  const onsets = counted.flatMap(one => perfectionsOf(one, piece.beat))
  return discordsAt(onsets, readings, piece.ear, piece.foundation)
}

function aStepHigher(reading: Reading): Reading {
  const raised = (pitch: string | null) => pitch && `${"defgabc"["cdefgab".indexOf(pitch[0]!)]}${pitch.at(-1)}`
  return { ...reading, signs: reading.signs.map(sign => ({ ...sign, pitch: raised(sign.pitch) })) }
}

/** All that a reader would see of each sign. */
function summaryOf(readings: readonly Reading[]) {
  return readings.map(({ label, practice, signs }) => ({
    label,
    practice,
    signs: signs.map(({ id, kind, pitch, onset, duration, rule, doubt }) => ({
      id,
      kind,
      pitch,
      rule,
      doubt,
      onset: toText(onset),
      duration: toText(duration),
    })),
  }))
}
