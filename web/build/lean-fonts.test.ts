import { readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { create } from "fontkit"
import { expect, test } from "vitest"
import { lean } from "./lean-fonts.js"

const require = createRequire(import.meta.url)
const whole = readFileSync(require.resolve("@fontsource/alegreya/files/alegreya-latin-400-normal.woff2"))
const widthIn = (font: Buffer, text: string): number => {
  const opened = create(font)
  if (!("layout" in opened)) throw new Error("Not one font.")
  return opened.layout(text).advanceWidth
}

test("a font without what nobody asks for is smaller, and its words are as wide", async () => {
  const part = await lean(whole)
  expect(part.length).toBeLessThan(0.95 * whole.length)
  // kerned pairs, a ligature, letters of several languages, signs that sentences use
  for (const text of ["AVATAR To We fi", "Größe, œuvre, señal, 1½ × 3", "“so” – ‘so’ … •"])
    expect(widthIn(part, text)).toBe(widthIn(whole, text))
})
