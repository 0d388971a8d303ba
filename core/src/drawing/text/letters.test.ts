import { readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { expect, test } from "vitest"
import type { Scene, TextMark, TypeFamily } from "../scene/scene.js"
import { inOurTypefaces, LACKING_BOX } from "./letters.js"

const mark = (text: string, family: TypeFamily = "words"): TextMark => ({
  shape: "text",
  part: "title",
  x: 0,
  y: 0,
  text,
  type: { family, size: 10 },
  fill: "ink",
})
const sceneOf = (...marks: TextMark[]): Scene => ({
  width: 100,
  height: 20,
  unit: 10,
  title: "",
  description: "",
  content: [{ shape: "group", content: marks }],
})
const written = (text: string, family?: TypeFamily) => {
  const { scene, lacking } = inOurTypefaces(sceneOf(mark(text, family)))
  const [group] = scene.content
  const [own] = group?.shape === "group" ? group.content : []
  return { text: own?.shape === "text" ? own.text : "", family: own?.shape === "text" ? own.type.family : "", lacking }
}

test("what both typefaces have stands as it is, in the very same scene", () => {
  const scene = sceneOf(mark("Ælfrīc · Łódź — Ὅμηρος", "words"), mark("⅓ of 9", "figures"))
  expect(inOurTypefaces(scene)).toEqual({ scene, lacking: [] })
  expect(inOurTypefaces(scene).scene).toBe(scene)
})
test("letters that neither has become boxes, each named once, in Hebrew, Arabic, Han and small pictures", () => {
  expect(written("שלום ש")).toMatchObject({ text: "□□□□ □", lacking: ["ש", "ל", "ו", "ם"] })
  expect(written("a 語 b")).toMatchObject({ text: "a □ b", lacking: ["語"] })
  expect(written("سلام").lacking).toHaveLength(4)
  expect(written("song 🎶")).toMatchObject({ text: "song □", lacking: ["🎶"] })
})
test("marks over a letter that is lacking go with it, and so do those that join or turn", () => {
  expect(written("שָׁ")).toMatchObject({ text: LACKING_BOX, lacking: ["ש"] })
  expect(written("\u202eabc\u202c ā")).toMatchObject({ text: "abc ā", lacking: [] })
  expect(written("👩🏽‍🎤").lacking).toEqual(["👩", "🎤"])
})
test("half of a letter is one that is lacking", () => {
  expect(written("a\ud800b")).toMatchObject({ text: "a□b", lacking: ["\ufffd"] })
})

interface Face {
  hasGlyphForCodePoint(point: number): boolean
}
test("what is said to be there has an outline in the files of the typefaces, the box too", () => {
  const require = createRequire(import.meta.url)
  const { create } = require("fontkit") as { create: (data: Buffer) => Face }
  const face = (name: string) => create(readFileSync(require.resolve(`@expo-google-fonts/${name}.ttf`)))
  const faces = {
    words: face("alegreya/700Bold/Alegreya_700Bold"),
    figures: face("source-sans-3/600SemiBold/SourceSans3_600SemiBold"),
  }
  const letters = Array.from({ length: 0x2600 - 0x20 }, (_, i) => String.fromCodePoint(i + 0x20))
  for (const family of ["words", "figures"] as const) {
    const missing = letters.filter(letter => {
      const own = written(letter, family)
      const drawn = own.text.codePointAt(0)
      return drawn !== undefined && !faces[own.family as TypeFamily].hasGlyphForCodePoint(drawn)
    })
    expect(missing).toEqual([])
  }
  expect(faces.words.hasGlyphForCodePoint(0x25a1)).toBe(true)
})
