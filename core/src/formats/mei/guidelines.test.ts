/**
 * The MEI Guidelines' examples, read by the rules alone, give the values they state. What is stated is worked out here
 * from each file's own attributes, and from its second staff, which counts the first out in equal notes: nothing of the
 * reader is used for it.
 */
import { DOMParser, type Element } from "@xmldom/xmldom"
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { over, plus, ratio, times, toText, ZERO, type Rational } from "../../base/index.js"
import { readPage, type Reading } from "../../reading/index.js"
import { readMei } from "./index.js"
import { standardsIn } from "./testing/standards.js"

const files = new Map(
  standardsIn("examples/guidelines").map(({ name, text }) => [name.replace(/^guidelines-|\.mei$/g, ""), text]),
)
const present = (name: string) => files.get(name) ?? ""

/** Examples with a counting staff, by what they show; the rest have tests of their own below. */
const COUNTED: readonly (readonly [name: string, practice: string])[] = [
  ["imperfection", "white"],
  ["alteration", "white"],
  ["augmentation", "white"],
  ["partial-imp-01-propinquam", "white"],
  ["partial-imp-02-bilateral", "white"],
  ["partial-imp-03-remotam", "white"],
  ["partial-imp-04-remotam", "white"],
  ["ars_antiqua", "ars-antiqua"],
]

function readings(name: string, practice: string, options?: Record<string, string>): Reading[] {
  const { page } = mustWork(readMei(present(name), name))
  return readPage(page, { ignoreGiven: true, practice: { name: practice, ...(options && { options }) } })
}

/** A staff as the file has it, everything in breves. */
interface Stated {
  /** What the file says of each note beyond its shape; undefined where it says nothing. */
  readonly durations: readonly (Rational | undefined)[]
  /** Values of the shapes. */
  readonly shapes: readonly Rational[]
  /** How many notes stand before each dashed line, the end of a perfection or of what stands for one. */
  readonly lines: readonly number[]
  readonly minim: Rational
}

/** Undiminished values by the divisions that the staffDef names, largest first. */
function shapeValues(definition: Element): Map<string, Rational> {
  const by = (name: string) => ratio(Number(definition.getAttribute(name) ?? 2))
  const semibrevis = over(ratio(1), by("tempus"))
  return new Map([
    ["longa", by("modusminor")],
    ["brevis", ratio(1)],
    ["semibrevis", semibrevis],
    ["minima", over(semibrevis, by("prolatio"))],
  ])
}

function statedOf(note: Element, values: Map<string, Rational>): Rational | undefined {
  const level = note.getAttribute("dur")!
  const own = values.get(level)!
  const [num, base] = [note.getAttribute("num"), note.getAttribute("numbase")]
  if (num !== null && base !== null) return times(own, ratio(Number(base), Number(num)))
  const part = [...values.values()][[...values.keys()].indexOf(level) + 1] ?? over(own, ratio(2))
  const qualities: Record<string, Rational> = {
    perfecta: times(part, ratio(3)),
    imperfecta: times(part, ratio(2)),
    altera: times(own, ratio(2)),
    duplex: times(own, ratio(2)),
    minor: ratio(1, 3),
    maior: ratio(2, 3),
  }
  return qualities[note.getAttribute("dur.quality") ?? ""]
}

function staffOf(text: string, n: string): Stated {
  const document = new DOMParser().parseFromString(text, "text/xml")
  const ofStaff = (name: string) => [...document.getElementsByTagName(name)].find(one => one.getAttribute("n") === n)!
  const values = shapeValues(ofStaff("staffDef"))
  const notes: Element[] = []
  const lines: number[] = []
  for (const one of ofStaff("staff").getElementsByTagName("*")) {
    if (one.tagName === "note") notes.push(one)
    if (one.tagName === "barLine" && one.getAttribute("form") === "dashed") lines.push(notes.length)
  }
  return {
    durations: notes.map(note => statedOf(note, values)),
    shapes: notes.map(note => values.get(note.getAttribute("dur")!)!),
    lines,
    minim: values.get("minima")!,
  }
}

/** Durations of a voice's notes in breves, whatever its practice counts in. */
function inBreves(reading: Reading, minim: Rational): Rational[] {
  const unit = reading.unit === "tempus" ? ratio(1) : minim
  return reading.signs.filter(sign => sign.kind === "note").map(sign => times(sign.duration, unit))
}

const sum = (durations: readonly Rational[]) => durations.reduce(plus, ZERO)
/** Onsets, as text, at which a staff has its dashed lines. */
const onsets = (lines: readonly number[], durations: readonly Rational[]) =>
  lines.map(line => toText(sum(durations.slice(0, line))))

describe.skipIf(files.size === 0).each(COUNTED)("%s", (name, practice) => {
  const text = present(name)
  const given = (n: string) => staffOf(text, n)

  it("gives every value that the file states", () => {
    const { durations, shapes, minim } = given("1")
    const read = inBreves(readings(name, practice)[0]!, minim)
    expect(read).toHaveLength(durations.length)
    expect(durations.filter(one => one !== undefined).length).toBeGreaterThan(0)
    const expected = durations.map((one, at) => toText(one ?? shapes[at]!))
    expect(read.map(toText)).toEqual(expected)
  })

  it("fills what the second staff counts out, line by line", () => {
    const [upper, counting] = [given("1"), given("2")]
    const read = inBreves(readings(name, practice)[0]!, upper.minim)
    expect(toText(sum(read))).toBe(toText(sum(counting.shapes)))
    const counted = onsets(counting.lines, counting.shapes)
    expect(counted).toEqual(expect.arrayContaining(onsets(upper.lines, read)))
    expect(upper.lines.length).toBeGreaterThan(0)
  })

  it("leaves no perfection open", () => {
    expect(readings(name, practice).flatMap(one => one.problems)).toEqual([])
  })
})

describe.skipIf(files.size === 0)("examples that count nothing out", () => {
  it("each level is the half of the one above it, as a note and as a rest", () => {
    const [notes, rests] = readings("notes_rests", "white")
    const durations = (reading: Reading) =>
      reading.signs.filter(sign => sign.kind === "note" || sign.kind === "rest").map(sign => toText(sign.duration))
    expect(durations(notes!)).toEqual(["16", "8", "4", "2", "1", "1/2", "1/4", "1/8"])
    expect(durations(rests!)).toEqual(durations(notes!))
  })

  it("voices with a cut sign are equally long, and so are those with none", () => {
    const lengths = readings("implicit-mensuration", "white").map(one => toText(one.duration))
    expect(lengths).toEqual(["10", "10", "20", "20"])
  })

  it("notes without a level are told one by one, and the signs are read", () => {
    const result = readMei(present("mensuration_changes"), "mensuration_changes")
    expect(result.problems.map(one => one.code)).toEqual(Array<string>(6).fill("level-missing"))
    const [reading] = readings("mensuration_changes", "ars-nova")
    expect(reading!.signs.map(sign => sign.kind)).toEqual(expect.arrayContaining(["mensuration", "mensuration"]))
    expect(reading!.mensurations.at(-1)).toMatchObject({ tempus: 2, prolatio: 2 })
  })

  it("the opening of a motet of about 1317 is read without an open perfection, plain semibreves as groups", () => {
    const name = "motet_fauvel_fol22r_triplum"
    const [reading] = readings(name, "ars-nova", { minims: "unwritten" })
    expect(reading!.signs.filter(sign => sign.number > 0)).toHaveLength(45)
    expect(reading!.problems).toEqual([])
    const groups = reading!.signs.filter(sign => sign.rule === "via-naturae" || sign.also.includes("via-naturae"))
    expect(groups.length).toBeGreaterThan(20)
  })
})
