/** Voices side by side, each from its own onsets; what does not meet is said, not mended. */
import {
  compare,
  max,
  minus,
  plus,
  times,
  toText,
  ZERO,
  type Problem,
  type Rational,
  type SignId,
} from "../base/index.js"
import type { Page } from "../page/index.js"
import type { Reading, SignReading } from "../reading/types.js"
import { colorationBrackets, factsOf, type VoiceFacts } from "./facts.js"
import { fitOf, isSectionEnd, voiceFitsOf } from "./fit.js"
import { fitSentence } from "./fit-sentence.js"
import { pitchOf } from "./pitch.js"
import { soundingOf, type Sounding } from "./sounding.js"
import { withDecidedAccidentals } from "./decided-accidentals.js"
import { withForm, type AlignOptions } from "./ordered.js"
import { placedSigns } from "./placed.js"
import { withRepeatedWords } from "./repeated-words.js"
import { structureOf } from "./structure.js"
import type { Fit, Score, ScoreEvent, ScoreNote, ScoreVoice, VoiceFit } from "./types.js"
import { commonUnit, mensurationsOf, sharedProportion } from "./units.js"

/**
 * The readings of a page's voices as one score, in the readings' order. Times are in the readings' unit; where units
 * differ, in minims by the equivalence that the score states. The last note of each voice is held to the common end.
 */
export function alignVoices(page: Page, readings: readonly Reading[], options: AlignOptions = {}): Score {
  return withForm(asWritten(page, readings), page, options)
}

function asWritten(page: Page, readings: readonly Reading[]): Score {
  const sounding = soundingOf(page, readings)
  const { unit, factor, equivalence } = commonUnit(sounding.readings)
  const drafts = sounding.readings.map((reading, at) => draftVoice(sounding, at, factor(reading)))
  const duration = drafts.reduce((end, draft) => max(end, draft.end), ZERO)
  const fit = fitOf(readings)
  const voiceFits = voiceFitsOf(readings)
  const voices = withDecidedAccidentals(
    drafts.map(draft => ({ ...draft.voice, events: toCommonEnd(draft, duration) })),
    page.decisions,
  )
  return {
    title: page.title,
    unit,
    equivalence,
    practice: usualPractice(readings),
    sharedProportion: sharedProportion(sounding.readings),
    voices,
    duration,
    fit,
    voiceFits,
    problems: [
      ...drafts.flatMap(draft => draft.problems),
      ...partingProblem(fit, voiceFits),
      ...structureOf({ voices, duration }).problems,
    ],
  }
}

interface Draft {
  readonly voice: ScoreVoice
  readonly end: Rational
  readonly problems: readonly Problem[]
}

function draftVoice({ page, readings, from, signOf }: Sounding, at: number, factor: Rational): Draft {
  const reading = readings[at]!
  const { part, words, ...number } = from[at]!
  const facts = factsOf(page.voices.find(voice => voice.id === reading.voice))
  const problems: Problem[] = []
  const { events, end, starts } = eventsOf(reading, factor, facts, problems, signOf)
  const brackets = [...facts.ligatures, ...colorationBrackets(events)].filter(
    bracket => starts.has(bracket.from) && starts.has(bracket.to),
  )
  return {
    voice: {
      id: reading.voice,
      part,
      ...(words === undefined ? {} : { canon: { ...number, words } }),
      n: reading.n,
      label: reading.label,
      practice: reading.practice.name,
      events: withRepeatedWords(events, brackets),
      mensurations: mensurationsOf(reading, factor),
      brackets,
      ...placedSigns(facts, starts, end, signOf),
      sectionEnds: reading.signs.filter(isSectionEnd).map(sign => times(sign.onset, factor)),
    },
    end,
    problems,
  }
}

function eventsOf(
  reading: Reading,
  factor: Rational,
  facts: VoiceFacts,
  problems: Problem[],
  signOf: Sounding["signOf"],
) {
  const events: ScoreEvent[] = []
  const starts = new Map<SignId, Rational>()
  let end = ZERO
  const lengthening = lengtheningDots(reading)
  for (const sign of reading.signs) {
    if (sign.kind !== "note" && sign.kind !== "rest") continue
    const given = times(sign.onset, factor)
    const duration = times(sign.duration, factor)
    starts.set(sign.id, given)
    if (duration.num <= 0) {
      problems.push(withoutDuration(sign, reading))
      continue
    }
    if (compare(given, end) > 0)
      events.push({ kind: "rest", id: null, sign: null, onset: end, duration: minus(given, end), fermata: false })
    // Signs that overlap would be a fault of the reading; the later one is moved rather than lost.
    const onset = max(given, end)
    if (compare(given, end) < 0) problems.push(overlap(sign, reading, minus(end, given)))
    const dot = facts.dotHands.get(sign.id)
    const dotHand = dot && lengthening.has(dot.dot) ? dot.hand : undefined
    events.push(eventOf(sign, { onset, duration, sign: signOf(sign.id), ...(dotHand && { dotHand }) }, factor, facts))
    starts.set(sign.id, onset)
    end = plus(onset, duration)
  }
  return { events, end, starts }
}

/** Dots that a modern value shows; those of division and alteration leave nothing behind in it. */
function lengtheningDots({ signs }: Reading): ReadonlySet<SignId> {
  return new Set(signs.filter(({ takenFor }) => LENGTHENING.has(takenFor ?? "")).map(({ id }) => id))
}
const LENGTHENING: ReadonlySet<string> = new Set(["punctus-additionis", "punctus-perfectionis"])

function eventOf(
  sign: SignReading,
  { dotHand, ...at }: Pick<ScoreNote, "onset" | "duration" | "sign" | "dotHand">,
  factor: Rational,
  facts: VoiceFacts,
): ScoreEvent {
  const hand = facts.hands.get(sign.id)
  if (sign.kind === "rest")
    return {
      kind: "rest",
      id: sign.id,
      ...at,
      ...(hand && { hand }),
      fermata: facts.rests.get(sign.id)?.fermata ?? false,
    }
  const note = facts.notes.get(sign.id)
  return {
    kind: "note",
    id: sign.id,
    ...at,
    readDuration: at.duration,
    pitch: pitchOf(sign.pitch),
    ...(note?.accidental === undefined
      ? {}
      : { written: { accidental: note.accidental, byEditor: note.accidentalByEditor ?? false } }),
    ...(note?.plica || sign.plica ? { plica: plicaOf(sign, factor) } : {}),
    ...(hand && { hand }),
    ...(dotHand && { dotHand }),
    coloration: note?.coloration ?? "none",
    fermata: note?.fermata ?? false,
    held: false,
    ...(sign.penultimateHeld ? { penultimateHeld: true } : {}),
    syllables: note?.syllables ?? [],
  }
}

function plicaOf(sign: SignReading, factor: Rational): ScoreNote["plica"] {
  const share = sign.plica?.duration
  return { duration: share ? times(share, factor) : null, pitch: pitchOf(sign.plica?.pitch ?? null) }
}

/** The final note is held; after a closing rest, or in a voice without a sign, there is silence. */
function toCommonEnd(draft: Draft, end: Rational): ScoreEvent[] {
  const { events } = draft.voice
  const last = events.at(-1)
  const missing = minus(end, draft.end)
  if (last?.kind === "note")
    return [...events.slice(0, -1), { ...last, held: true, duration: plus(last.duration, missing) }]
  if (missing.num === 0) return [...events]
  return [...events, { kind: "rest", id: null, sign: null, onset: draft.end, duration: missing, fermata: false }]
}

/** The practice of most voices; of two with as many, the one of the upper voice. */
function usualPractice(readings: readonly Reading[]): string {
  const count = (name: string) => readings.filter(reading => reading.practice.name === name).length
  const names = readings.map(reading => reading.practice.name)
  return names.sort((a, b) => count(b) - count(a))[0] ?? "ars-nova"
}

function partingProblem(fit: Fit, voiceFits: readonly VoiceFit[]): Problem[] {
  if (!fit.firstParting) return []
  const { onset, signs } = fit.firstParting
  const unit = fit.unit === "minima" ? "minim" : "tempus"
  const misses = voiceFits.flatMap(({ label, by }) => {
    if (by.num === 0) return []
    const size = toText({ num: Math.abs(by.num), den: by.den })
    return `${label} is ${size} ${size === "1" ? unit : fit.unit === "minima" ? "minims" : "tempora"} ${by.num < 0 ? "short" : "long"}`
  })
  const isSignum = fit.missed?.kind === "signum"
  const finals = misses.length > 0 ? ` At the finals ${misses.join(", ")}.` : ""
  return [
    {
      code: "voices-part",
      what: fit.finalsMeet
        ? fitSentence(fit)
        : `The voices do not meet: they have parted by ${unit} ${onset}.${finals}`,
      where: signs[0] === undefined ? undefined : { sign: signs[0] },
      mend: isSignum
        ? "Look whether the signum stands at its right place; else for a slip before it."
        : "Look before that place for a missing dot, rest or note in the voices named, or for another mensuration.",
    },
  ]
}

function withoutDuration(sign: SignReading, reading: Reading): Problem {
  return {
    code: "no-duration",
    what: `${reading.label} ${sign.number} has no duration, so the score leaves it out.`,
    where: { sign: sign.id },
    mend: "Give its level, or the length of the rest's stroke.",
  }
}

function overlap(sign: SignReading, reading: Reading, by: Rational): Problem {
  return {
    code: "overlap",
    what: `${reading.label} ${sign.number} begins ${toText(by)} before the sign ahead of it has ended; the score lets it begin later.`,
    where: { sign: sign.id },
    mend: "Look at the durations given in the file for it and for the sign before it.",
  }
}
