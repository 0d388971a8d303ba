/** A WAV file, read field by field as its specification lays it out. */
import { expect, test } from "vitest"
import { pcm16, WAV_HEADER_BYTES, wavHeader } from "./index.js"

test("the header says what follows", () => {
  const bytes = wavHeader({ frames: 1000, rate: 44_100, channels: 2 })
  const view = new DataView(bytes.buffer)
  const letters = (at: number) => String.fromCharCode(...bytes.slice(at, at + 4))
  expect([letters(0), letters(8), letters(12), letters(36)]).toEqual(["RIFF", "WAVE", "fmt ", "data"])
  expect(bytes.length).toBe(WAV_HEADER_BYTES)
  expect([view.getUint32(4, true), view.getUint32(40, true)]).toEqual([4036, 4000])
  expect([view.getUint32(16, true), view.getUint16(20, true), view.getUint16(22, true)]).toEqual([16, 1, 2])
  expect([view.getUint32(24, true), view.getUint32(28, true)]).toEqual([44_100, 176_400])
  expect([view.getUint16(32, true), view.getUint16(34, true)]).toEqual([4, 16])
  expect(() => wavHeader({ frames: 2 ** 31, rate: 44_100, channels: 2 })).toThrow(RangeError)
})

test("samples lie channel beside channel, silence is nought, what is too large is cut off", () => {
  const bytes = pcm16([Float32Array.of(0, 0.5, 2), Float32Array.of(-1, 0, -2)])
  const view = new DataView(bytes.buffer)
  expect([0, 1, 2, 3, 4, 5].map(n => view.getInt16(2 * n, true))).toEqual([0, -32_767, 16_384, 0, 32_767, -32_768])
})
