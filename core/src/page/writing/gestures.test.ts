/** Writing with keys, in the shorthand: what stood there, what was done at which signs, what stands there then. */
import { describe, expect, it } from "vitest"
import type { SignId } from "../../base/index.js"
import { mustWork } from "../../base/testing/must-work.js"
import { applyChange } from "../change.js"
import type { Page } from "../page.js"
import { parseShorthand } from "../shorthand/index.js"
import { flatSigns } from "../walk.js"
import * as write from "./index.js"
import { writingText, type Gesture } from "./index.js"

const pageOf = (music: string): Page => mustWork(parseShorthand(`voice cantus black\n${music}`))
const musicOf = (page: Page): string => writingText(page).split("\n").slice(3).filter(Boolean).join(" / ")
const idsOf = (page: Page): SignId[] => page.voices.flatMap(voice => flatSigns(voice).map(({ sign }) => sign.id))
const v = (page: Page) => page.voices[0]!.id

/** The music after the gesture, and the number of the sign at which one then stands. */
function after(music: string, gesture: (page: Page, ids: SignId[]) => Gesture | undefined): string {
  const page = pageOf(music)
  const made = gesture(page, idsOf(page))
  if (!made) return "nothing"
  const changed = mustWork(applyChange(page, made.change))
  expect(mustWork(applyChange(changed.page, changed.undo)).page).toEqual(page)
  return `${musicOf(changed.page)} @${made.select ? idsOf(changed.page).indexOf(made.select) : ""}`
}
type Case = [title: string, music: string, gesture: Parameters<typeof after>[1], expected: string]

describe("writing on the page", () => {
  it.each<Case>([
    [
      "a note near the one before",
      "B b4",
      (p, [a]) => write.writeNote(p, { voice: v(p), after: a! }, "c", "semibrevis"),
      "B b4 S c5 @1",
    ],
    ["a note below", "B c4", (p, [a]) => write.writeNote(p, { voice: v(p), after: a! }, "b", "brevis"), "B c4 b3 @1"],
    [
      "a first note, by the clef",
      "clef:C3",
      (p, [a]) => write.writeNote(p, { voice: v(p), after: a! }, "c", "brevis"),
      "clef:C3 / B c4 @1",
    ],
    [
      "a first note, by an F clef",
      "clef:F3",
      (p, [a]) => write.writeNote(p, { voice: v(p), after: a! }, "c", "brevis"),
      "clef:F3 / B c3 @1",
    ],
    [
      "a note at the beginning of an empty voice",
      "",
      p => write.writeNote(p, { voice: v(p) }, "g", "longa"),
      "L g3 @0",
    ],
    [
      "a note over a note",
      "B c4 d",
      (p, [a]) => write.writeNote(p, { voice: v(p), after: a! }, "e", "semibrevis", true),
      "B c4 S e @1",
    ],
    [
      "a note within a ligature",
      "[c4 d]",
      (p, [a]) => write.writeNote(p, { voice: v(p), after: a! }, "e", "brevis"),
      "[c4 e d] @1",
    ],
    [
      "a note behind a ligature",
      "[c4 d] B f",
      (p, [, b]) => write.writeNote(p, { voice: v(p), after: b! }, "e", "brevis"),
      "[c4 d] B e f @2",
    ],
    ["a rest", "B c4 d", (p, [a]) => write.writeRest(p, { voice: v(p), after: a! }, "semibrevis"), "B c4 rS d @1"],
    ["a dot", "B c4 d", (p, [a]) => write.turnDot(p, a!), "B c4 . d @0"],
    ["no dot", "B c4 . d", (p, [a]) => write.turnDot(p, a!), "B c4 d @0"],
    ["another level", "B c4 r2 d", (p, [a, b]) => write.setLevel(p, [a!, b!], "longa"), "L c4 r B d @1"],
    ["higher", "B b4 c5", (p, ids) => write.movePitch(p, ids, 1), "B c5 d @1"],
    ["an octave lower", "B c4", (p, ids) => write.movePitch(p, ids, -7), "B c3 @0"],
    ["a flat", "B b4", (p, ids) => write.turnAccidental(p, ids), "B bf4 @0"],
    ["no accidental after the natural", "B bn4", (p, ids) => write.turnAccidental(p, ids), "B b4 @0"],
    ["a stem", "S b4", (p, ids) => write.turnStem(p, ids), "S b4/down @0"],
    ["a plica", "L b4", (p, ids) => write.turnPlica(p, ids), "L b4\\up @0"],
    ["red", "B b4 c5", (p, ids) => write.turnColour(p, ids), "red{B b4 c5} @1"],
    ["a sign taken away", "B a4 b c5", (p, [, b]) => write.takeAway(p, [b!]), "B a4 c5 @1"],
    ["a ligature with its last notes", "B a4 [b c5] d", (p, [, b, c]) => write.takeAway(p, [b!, c!]), "B a4 d5 @1"],
    ["one note of a ligature", "[b4 c5 d]", (p, [, b]) => write.takeAway(p, [b!]), "[b4 d5] @1"],
    ["all of it", "B a4", (p, ids) => write.takeAway(p, ids), " @"],
    [
      "copies behind a ligature",
      "B a4 [b g] c5",
      (p, [a, b]) => write.paste(p, { voice: v(p), after: b! }, write.wholeSigns(p, [a!, b!])),
      "B a4 [b g] a [b g] c5 @5",
    ],
    [
      "nothing where there is no such voice",
      "B a4",
      (p, ids) => write.paste(p, { voice: "x" as never, after: ids[0]! }, p.voices[0]!.signs),
      "nothing",
    ],
  ])("%s", (_, music, gesture, expected) => {
    expect(after(music, gesture)).toBe(expected)
  })
})

describe("ligatures", () => {
  it.each<Case>([
    ["two notes bound", "B a4 g f", (p, [a, b]) => write.bind(p, [a!, b!]), "[a4 g] B f @1"],
    ["with a stem", "B a4 g", (p, ids) => write.bind(p, ids, { stem: "down" }), "[a4/down(left) g] @1"],
    ["oblique at the end", "B a4 g b", (p, ids) => write.bind(p, ids, { oblique: "last" }), "[a4 g_ b] @2"],
    ["one note is no ligature", "B a4 g", (p, [a]) => write.bind(p, [a!]), "nothing"],
    ["a rest cannot be bound", "B a4 r g", (p, ids) => write.bind(p, ids), "nothing"],
    [
      "another shape",
      "[a4 g b]",
      (p, [a]) => write.reshape(p, a!, { oblique: "first", stem: "up" }),
      "[a4_/up(left) g b] @0",
    ],
    [
      "taken apart",
      "[a4/down(left) g] B f",
      (p, [a]) => write.unbind(p, a!, id => (id === a ? "brevis" : "longa")),
      "B a4 L g B f @1",
    ],
  ])("%s", (_, music, gesture, expected) => {
    expect(after(music, gesture)).toBe(expected)
  })
})
