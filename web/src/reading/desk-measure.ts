/** The evidence for the mensuration, as it is told. Loaded when it is first asked for. */
import {
  divisionsInWords,
  findMensurations,
  fitsUnder,
  practiceNamed,
  shownCandidates,
  suppliedLevels,
  supplyFound,
  type Page,
  type VoiceFound,
} from "@resolutio/core"
import type { MeasureOfVoice, MeasureTold } from "./told-chapters.js"

/** So much is told of the likeliest, and of each other. */
const MOST_EVIDENCE = 8
const MOST_AGAINST = 3

export function measureOf(page: Page): MeasureTold {
  const options = { evidence: true }
  const found = findMensurations(page, options)
  const isOpen = found.voices.some(one => suppliedLevels(one).length > 0)
  return {
    voices: found.voices.map(ofVoice),
    fits: fitsUnder(page, found, options).map(one => one.what),
    supply: isOpen ? supplyFound(page, found) : undefined,
  }
}

function ofVoice(found: VoiceFound): MeasureOfVoice {
  return {
    voice: found.voice,
    label: found.label,
    practice: practiceNamed(found.practice.name)?.title ?? found.practice.name,
    given: found.from === "given",
    doubt: found.doubt,
    words: found.candidates.length === 0 ? "" : divisionsInWords(found.divisions, found),
    candidates: shownCandidates(found).map((one, i) => ({
      words: divisionsInWords(one.divisions, found),
      chance: one.chance,
      shared: one.shared,
      asLongAs: one.asLongAs,
      evidence: one.evidence.slice(0, i === 0 ? MOST_EVIDENCE : MOST_AGAINST),
    })),
    changes: found.changes.map(({ what, from }) => ({ what, sign: from })),
    problems: found.problems.map(one => one.what),
  }
}
