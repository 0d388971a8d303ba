/** What we write is valid MEI 5.1. */
import { existsSync, readFileSync } from "node:fs"
import { join, resolve } from "node:path"
import { fileURLToPath } from "node:url"
import { RelaxNGValidator, XmlDocument } from "libxml2-wasm"
import { afterAll, beforeAll, describe, expect, test } from "vitest"
import { alignVoices } from "../../../score/index.js"
import { WAYS } from "../../../edition/testing/ways.js"
import { CANONS, FORMS } from "../../../score/testing/canons.js"
import { DEMOS, demoPiece } from "../../../score/testing/demos.js"
import { everything } from "../../../score/testing/everything.js"
import { withHands } from "../../../score/testing/hands.js"
import { PIECES } from "../../../score/testing/pieces.js"
import { randomPiece, signsFrom, testPiece } from "../../../score/testing/readings.js"
import { faultsBy } from "../../testing/schemas.js"
import { modernMei } from "./index.js"

const project = resolve(fileURLToPath(new URL(".", import.meta.url)), "../../../../..")
const standards = process.env["RESOLUTIO_STANDARDS"] ?? join(project, "../shared/standards")
const schema = join(standards, "mei/mei-CMN.rng")
if (!existsSync(schema))
  console.warn(
    `SKIPPED: modern MEI was not held against its schema, for ${schema} is not there. Set RESOLUTIO_STANDARDS.`,
  )

describe.skipIf(!existsSync(schema))("valid by the schema of common notation", () => {
  let validator: RelaxNGValidator
  beforeAll(() => {
    const grammar = XmlDocument.fromBuffer(readFileSync(schema))
    validator = RelaxNGValidator.fromDoc(grammar)
    grammar.dispose()
  })
  afterAll(() => validator.dispose())
  const problems = (mei: string): string[] => faultsBy(validator, mei)
  test.each(Object.entries(PIECES))("%s", (_, make) => {
    const { page, readings } = make()
    expect(problems(modernMei(alignVoices(page, readings)))).toEqual([])
  })
  test("repeats, endings, words, stanzas", () => {
    expect(problems(modernMei(everything()))).toEqual([])
  })
  test.each(WAYS)("bars and notes %s", (_, chosen) => {
    expect(problems(modernMei(everything(), chosen))).toEqual([])
    for (const make of Object.values(PIECES)) {
      const { page, readings } = make()
      expect(problems(modernMei(alignVoices(page, readings), chosen))).toEqual([])
    }
    for (let seed = 1; seed <= 8; seed++) {
      const { page, readings } = randomPiece(seed)
      expect(problems(modernMei(alignVoices(page, readings), chosen))).toEqual([])
    }
  })
  test.each([...CANONS, ...FORMS])("in canon, or repeats as %s", (_, make) => {
    expect(problems(modernMei(make()))).toEqual([])
  })
  test("random pieces", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const { page, readings } = randomPiece(seed)
      expect(problems(modernMei(alignVoices(page, readings)))).toEqual([])
    }
  })
  test("all signs, breaks and strokes of the demos", () => {
    for (const name of DEMOS) {
      const { page, readings } = demoPiece(name)
      const text = modernMei(alignVoices(page, readings), { signs: "all", sourceBreaks: "lines" })
      expect(problems(text)).toEqual([])
    }
  })
  test.each(["brackets", "small", "none"] as const)("what an editor supplied, as %s", supplied => {
    for (const make of [...Object.values(PIECES), () => randomPiece(3), () => randomPiece(4)]) {
      const { page, readings } = make()
      const text = modernMei(alignVoices(withHands(page), readings), { supplied }, { wordsOfOneSize: true })
      expect(/<(supplied|corr)[ >]/.test(text)).toBe(supplied !== "none")
      expect(problems(text)).toEqual([])
    }
  })
  test("strange texts, no notes, no voices", () => {
    const strange = 'a<b & "c" \u0000 ]]> <script>alert(1)</script>'
    const signs = signsFrom("d4:3|x").map(sign => ({
      ...sign,
      note: { ...sign.note, syllables: [{ stanza: 1, text: strange, join: " " as const }] },
    }))
    const texts = testPiece([{ label: strange, unit: "tempus", signs }], strange)
    const mei = modernMei(alignVoices(texts.page, texts.readings))
    expect(problems(mei)).toEqual([])
    expect(mei).not.toContain("<script")
    const silent = testPiece([
      { label: "Silent", signs: [] },
      { label: "Rests", signs: signsFrom("r:4 r:2") },
    ])
    expect(problems(modernMei(alignVoices(silent.page, silent.readings)))).toEqual([])
    const empty = testPiece([])
    expect(problems(modernMei(alignVoices(empty.page, empty.readings)))).toEqual([])
  })
  test("the check itself can fail", () => {
    expect(problems('<mei xmlns="http://www.music-encoding.org/ns/mei"><music/><nonsense/></mei>')).not.toEqual([])
  })
})
