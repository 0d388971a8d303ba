/** What we write is valid MusicXML 4.0, and each id stands once. */
import { existsSync, readFileSync } from "node:fs"
import { join, resolve } from "node:path"
import { fileURLToPath } from "node:url"
import { XmlBufferInputProvider, XmlDocument, XsdValidator, xmlRegisterInputProvider } from "libxml2-wasm"
import { afterAll, beforeAll, describe, expect, test } from "vitest"
import { alignVoices, type Score } from "../../score/index.js"
import { CANONS, FORMS } from "../../score/testing/canons.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { WAYS } from "../../edition/testing/ways.js"
import { everything } from "../../score/testing/everything.js"
import { withHands } from "../../score/testing/hands.js"
import { PIECES } from "../../score/testing/pieces.js"
import { randomPiece, signsFrom, testPiece } from "../../score/testing/readings.js"
import { faultsBy } from "../testing/schemas.js"
import { writeMusicXml } from "./index.js"

const project = resolve(fileURLToPath(new URL(".", import.meta.url)), "../../../..")
const folder = join(process.env["RESOLUTIO_STANDARDS"] ?? join(project, "../shared/standards"), "musicxml")
const isThere = existsSync(join(folder, "musicxml.xsd"))
if (!isThere)
  console.warn(
    `SKIPPED: MusicXML was not held against its schema, for ${folder} is not there. Set RESOLUTIO_STANDARDS.`,
  )

const score = ({ page, readings }: ReturnType<typeof testPiece>): Score => alignVoices(page, readings)

describe.skipIf(!isThere)("valid by the schema", () => {
  let validator: XsdValidator
  beforeAll(() => {
    // The schema names two others by their address: they are taken from the same folder.
    const beside = (name: string) => [`http://www.musicxml.org/xsd/${name}`, readFileSync(join(folder, name))] as const
    xmlRegisterInputProvider(new XmlBufferInputProvider(Object.fromEntries([beside("xml.xsd"), beside("xlink.xsd")])))
    const schema = XmlDocument.fromBuffer(readFileSync(join(folder, "musicxml.xsd")))
    validator = XsdValidator.fromDoc(schema)
    schema.dispose()
  })
  afterAll(() => validator.dispose())
  const problems = (text: string): string[] => faultsBy(validator, text)

  test.each(Object.entries(PIECES))("%s", (_, make) => {
    expect(problems(writeMusicXml(score(make())))).toEqual([])
  })
  test.each(DEMOS)("demo %s", name => {
    expect(problems(writeMusicXml(score(demoPiece(name))))).toEqual([])
  })
  test.each([...CANONS, ...FORMS])("in canon, or repeats as %s", (_, make) => {
    expect(problems(writeMusicXml(make()))).toEqual([])
  })
  test("100 random pieces", () => {
    for (let seed = 1; seed <= 100; seed++)
      expect([seed, ...problems(writeMusicXml(score(randomPiece(seed))))]).toEqual([seed])
  })
  test.each(WAYS)("bars and notes %s", (_, chosen) => {
    expect(problems(writeMusicXml(everything(), chosen))).toEqual([])
    for (const make of Object.values(PIECES)) expect(problems(writeMusicXml(score(make()), chosen))).toEqual([])
    for (let seed = 1; seed <= 8; seed++)
      expect([seed, ...problems(writeMusicXml(score(randomPiece(seed)), chosen))]).toEqual([seed])
  })
  test("all signs, breaks and strokes of the demos", () => {
    for (const name of DEMOS) {
      const { page, readings } = demoPiece(name)
      const text = writeMusicXml(alignVoices(page, readings), { signs: "all", sourceBreaks: "lines" })
      expect(problems(text)).toEqual([])
    }
  })
  test.each(["brackets", "small", "none"] as const)("what an editor supplied, as %s", supplied => {
    for (const make of [...Object.values(PIECES), () => randomPiece(3), () => randomPiece(4)]) {
      const { page, readings } = make()
      const text = writeMusicXml(alignVoices(withHands(page), readings), { supplied })
      expect(text.includes("<level")).toBe(supplied !== "none")
      expect(problems(text)).toEqual([])
    }
  })
  test("strange texts, no pitches, no notes, no voices", () => {
    const strange = 'a<b & "c" \u0000 ]]> <script>alert(1)</script>'
    const signs = signsFrom("d4:3|x h9:1 d-1:2 d4:1/7").map(sign => ({
      ...sign,
      note: { ...sign.note, accidental: "1qf", syllables: [{ stanza: 1, text: strange, join: " " as const }] },
    }))
    const text = writeMusicXml(score(testPiece([{ label: strange, unit: "tempus", signs }], strange)))
    expect(problems(text)).toEqual([])
    expect(text).not.toContain("<script")
    const silent = testPiece([
      { label: "Silent", signs: [] },
      { label: "Rests", signs: signsFrom("r:4 r:2") },
    ])
    expect(problems(writeMusicXml(score(silent)))).toEqual([])
    expect(problems(writeMusicXml(score(testPiece([{ label: "Silent", signs: [] }]))))).toEqual([])
    expect(problems(writeMusicXml(score(testPiece([]))))).toEqual([])
  })
  test("times that no number of divisions holds", () => {
    const fine = testPiece([{ label: "a", signs: signsFrom("d4:1/7 d4:1/9 d4:1/11 d4:1/13 d4:1/17 d4:3") }])
    expect(problems(writeMusicXml(score(fine)))).toEqual([])
  })
  test("the check itself can fail", () => {
    expect(problems('<score-partwise version="4.0"><nonsense/></score-partwise>')).not.toEqual([])
    const text = writeMusicXml(score(PIECES.oldMotet()))
    expect(problems(text.replace('id="s1.2"', 'id="s1.1"'))).not.toEqual([])
  })
})

test("ids that XML would have alike are kept apart, and those that need no change are kept", () => {
  const piece = testPiece([{ label: "v", signs: signsFrom("d4:12 e4:2 f4:2 g4:2 a4:2") }])
  const names = ["1.1", "s1.1", "s1.1.part2", "P1", "P1-I1"]
  const rename = (id: string) => names[Number(id.split(".")[1]) - 1] ?? id
  const made = score(piece)
  const voices = made.voices.map(voice => ({
    ...voice,
    events: voice.events.map(event => ({ ...event, id: event.id && (rename(event.id) as typeof event.id) })),
  }))
  const text = writeMusicXml({ ...made, voices: voices as Score["voices"] })
  const ids = [...text.matchAll(/<(?:note|score-part|score-instrument) id="([^"]*)"/g)].map(found => found[1])
  expect(new Set(ids).size).toBe(ids.length)
  expect(ids).toEqual(expect.arrayContaining(["s1.1", "s1.1.part2", "P1", "P1-I1"]))
})
