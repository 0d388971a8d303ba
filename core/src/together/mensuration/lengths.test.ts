import { describe, expect, test } from "vitest"
import { parseShorthand } from "../../page/index.js"
import type { Trial } from "./candidates.js"
import { weigh } from "./weighing.js"
import { chancesOf, type VoiceTrials } from "./joint.js"
import { lengthsTogether } from "./lengths.js"
import { ALL_DIVISIONS } from "./measures.js"

const pageOf = (tenor: string) => {
  const text = `voice triplum black practice=ars-nova\nmens:modusmaior=2:modus=2:tempus=2:prolatio=2 B c4 d S e f B g a c5 b a g L c\nvoice tenor black practice=ars-nova\nmens:modusmaior=2:tempus=2:prolatio=2 ${tenor}`
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}

test("a voice that is as long as no other under its likely mensurations is asked for the unlikely ones too", () => {
  const page = pageOf("L c3 d e f B g L c")
  const { works, options } = weigh(page, undefined, {}, false)
  const asked = works.map(({ voice, trials }) => ({ voice, trials, chances: trials.map(() => 1) }))
  const perfectOnly = asked.with(1, {
    ...asked[1]!,
    chances: asked[1]!.trials.map(({ divisions }) => (divisions.modusMinor === 3 ? 1 : 1e-3)),
  })
  const lengths = lengthsTogether(perfectOnly, options)
  const imperfect = works[1]!.trials.findIndex(one => one.divisions.modusMinor === 2)
  expect(lengths[1]![imperfect]).toBe(lengths[0]![0])
  // one of three voices that is as long as another is not asked
  const both = lengthsTogether([asked[0]!, perfectOnly[1]!, perfectOnly[1]!], options)
  expect(both[1]![imperfect]).toBeUndefined()
})

describe("the length of a voice against that of the piece", () => {
  const trial = (d: number): Trial => ({
    divisions: ALL_DIVISIONS[d]!,
    fit: 0,
    foretold: [],
    signs: [],
    scale: 1,
    breves: 1,
  })
  const custom = { modusMaior: 0.5, modusMinor: 0.5, tempora: { "3.2": 0.25, "3.3": 0.25, "2.2": 0.25, "2.3": 0.25 } }
  const voice = (lengths: readonly string[]): VoiceTrials => ({
    trials: lengths.map(() => trial(0)),
    custom,
    byTempus: false,
    lengths,
  })
  const chance = (lengths: readonly string[]): readonly number[] =>
    chancesOf([voice(["minima 480"]), voice(["minima 480"]), voice(lengths)]).chances[2]!

  test("the same is likelier than a little less, and that than much less", () => {
    const [same, near, far] = chance(["minima 480", "minima 471", "minima 240"])
    expect(same).toBeGreaterThan(20 * near!)
    expect(near).toBeGreaterThan(5 * far!)
  })

  test("fractions are lengths too, and lengths in different units are not near each other", () => {
    const [near, far] = chance(["minima 959/2", "brevis 480"])
    expect(near).toBeGreaterThan(5 * far!)
  })
})
