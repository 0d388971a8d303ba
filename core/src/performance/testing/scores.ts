/** For tests: scores from lists of durations. */
import { alignVoices, type Score } from "../../score/index.js"
import { signsFrom, testPiece, type TestVoice } from "../../score/testing/readings.js"
import { perform, type PerformanceOptions } from "../perform.js"
import type { Performance } from "../types.js"

/** Voices as `signsFrom` takes them, or with mensurations and more. */
export function scoreFrom(...voices: (string | TestVoice)[]): Score {
  const { page, readings } = testPiece(
    voices.map((voice, at) =>
      typeof voice === "string" ? { label: `voice ${at + 1}`, signs: signsFrom(voice) } : voice,
    ),
  )
  return alignVoices(page, readings)
}

/** Throws where it fails. */
export function performed(score: Score, options: PerformanceOptions = {}): Performance {
  const result = perform(score, options)
  if (!result.ok) throw new Error(result.problems.map(one => one.what).join(" "))
  return result.value
}

/** A minim each second, no held final: numbers that can be read off. */
export const PLAIN: PerformanceOptions = { tempo: { value: "minima", perMinute: 60 }, final: 0 }
