/** What was kept of how a piece is heard: whatever stands there, what comes back can be performed. */
import fc from "fast-check"
import { alignVoices, parseShorthand, readTogether, type VoiceId } from "@resolutio/core"
import { expect, test } from "vitest"
import { USUAL_HEARING, type Hearing } from "./hearing.js"
import { saneHearing } from "./keep-hearing.js"
import { performed } from "./performed.js"

const tenor = "tenor" as VoiceId

test("what was chosen comes back as it was", () => {
  const hearing: Hearing = {
    speed: 0.75,
    countIn: true,
    timbre: "organ",
    tempo: { value: "semibrevis", perMinute: 60 },
    tuning: "meantone",
    equivalence: "breve",
    reference: 466,
    shift: "-P4",
    voices: { [tenor]: { level: -6, place: 0.5, mute: false, solo: true } },
  }
  expect(saneHearing(JSON.parse(JSON.stringify(hearing)))).toEqual(hearing)
})

test("what is spoilt is left out", () => {
  for (const spoilt of [undefined, null, 7, "x", [], { speed: 1e9, timbre: "drum", tempo: { value: "x" }, shift: "?" }])
    expect(saneHearing(spoilt)).toEqual(USUAL_HEARING)
  const voices = { [tenor]: null, other: { level: Number.NaN, place: 3, mute: "yes" } }
  expect(saneHearing({ voices }).voices).toEqual({
    [tenor]: { mute: false, solo: false },
    other: { mute: false, solo: false },
  })
})

test("anything at all can be performed", () => {
  const parsed = parseShorthand("voice tenor practice=ars-nova\nclef:C3 O B c4 S d4 B e4 C. S c4 M d4 e4\n")
  if (!parsed.ok) throw new Error("the piece is not read")
  const score = alignVoices(parsed.value, readTogether(parsed.value).readings)
  fc.assert(
    fc.property(fc.anything({ maxDepth: 3, withNullPrototype: false }), anything => {
      const kept = { ...USUAL_HEARING, ...(anything as object) }
      expect(performed(score, saneHearing(kept)).sounds.length).toBeGreaterThan(0)
    }),
    { numRuns: 100 },
  )
})
