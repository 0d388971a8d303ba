/** A doubtful passage in two readings. */
import { describe, expect, test } from "vitest"
import { compare, toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { alignVoices } from "../score/index.js"
import { readTogether } from "./index.js"
import { rivalOf } from "./rival.js"

function piece(text: string) {
  const parsed = parseShorthand(text)
  if (!parsed.ok) throw new Error(parsed.problems[0]!.what)
  const page = parsed.value
  const { readings } = readTogether(page)
  const read = (other: typeof page) => readTogether(other).readings
  return { page, readings, score: alignVoices(page, readings), read }
}

describe("the nearest rival of a sign", () => {
  const open = piece(`title: Two ways (invented)

voice cantus black practice=ars-nova
C. S c4 M d4 M e4 S f4 S e4 M d4 M e4 M f4 S g4 B c4
`)
  const doubtful = open.readings.flatMap(one => one.signs).filter(one => one.number > 0 && one.rivals.length > 0)

  test("is decided in the page that is given back, and nowhere else", () => {
    expect(doubtful.length).toBeGreaterThan(0)
    for (const { id, rivals } of doubtful) {
      const rival = rivalOf({ ...open, sign: id })
      if (!rival.ok) throw new Error(rival.problems[0]!.what)
      const read = rival.value.readings.flatMap(one => one.signs).find(one => one.id === id)!
      expect(toText(read.duration)).toBe(toText(rivals[0]!.duration))
      expect(rival.value.page.decisions).toHaveLength(1)
      expect(open.page.decisions ?? []).toHaveLength(0)
      const at = open.score.voices.flatMap(one => one.events).find(one => one.sign === id)!
      expect(compare(rival.value.from, at.onset)).toBeLessThanOrEqual(0)
      expect(compare(rival.value.to, at.onset)).toBeGreaterThan(0)
    }
  })
  test("without a sign it is that of the most doubtful one", () => {
    const most = doubtful.reduce((one, other) => (other.doubt > one.doubt ? other : one))
    const [found, same] = [rivalOf(open), rivalOf({ ...open, sign: most.id })]
    expect(found.ok && found.value.sentence).toBe(same.ok && same.value.sentence)
  })
  test("is told not to be there", () => {
    const sure = open.readings.flatMap(one => one.signs).find(one => one.number > 0 && one.rivals.length === 0)!
    const none = rivalOf({ ...open, sign: sure.id })
    expect(none.ok ? "" : none.problems[0]!.what).toMatch(/^Of \w+ \d+ there is only one reading\.$/)
  })
})
