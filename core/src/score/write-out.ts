/** A score with its repeats written out: stretch after stretch as they are sung. */
import {
  compare,
  equals,
  max,
  minus,
  plus,
  signId,
  ZERO,
  type Problem,
  type Rational,
  type SignId,
} from "../base/index.js"
import type { Syllable } from "../page/index.js"
import { stretchesOf, type Form, type FormTurn } from "./form.js"
import type { Score, ScoreEvent, ScoreMark, ScoreNote, ScoreSign, ScoreVoice } from "./types.js"

/** A stretch of the score as it is written, and where it is sung. */
interface Stretch {
  readonly from: Rational
  readonly to: Rational
  readonly at: Rational
  /** How often what stands there was sung before. */
  readonly before: number
  /** Stanzas whose words are sung, by the number they have on the page. */
  readonly stanzas: readonly number[]
  /** It goes on from where the one before it ended, or the next one goes on where it ends. */
  readonly joins: boolean
  readonly joined: boolean
  /** Nothing else is sung after it in its strophe. */
  readonly closes: boolean
}

/** What is no longer said by marks: it is written out. */
const WRITTEN_OUT: ReadonlySet<ScoreMark["of"]> = new Set<ScoreMark["of"]>([
  "repeat-start",
  "repeat-end",
  "ending-open",
  "ending-closed",
  "refrain-start",
  "refrain-end",
])

/** The turns one after another. Ids of what is sung again end in ".again2", ".again3" … */
export function writtenOut(score: Score, form: Form, turns: readonly FormTurn[]): Score {
  const stretches = placed(form, turns)
  const last = stretches.at(-1)
  if (!last) return score
  const duration = plus(last.at, minus(last.to, last.from))
  const problems: Problem[] = []
  const name = namer(score)
  const voices = score.voices.map(voice => sungVoice(voice, stretches, name, duration, problems))
  return { ...score, voices, duration, problems: [...score.problems, ...problems] }
}

function placed(form: Form, turns: readonly FormTurn[]): Stretch[] {
  const stretches: Stretch[] = []
  let at = ZERO
  turns.forEach((turn, i) => {
    const own = stretchesOf(turn, form)
    own.forEach(({ from, to, stanzas }, k) => {
      const before = stretches.filter(one => compare(one.from, to) < 0 && compare(from, one.to) < 0).length
      const last = stretches.at(-1)
      const joins = last !== undefined && equals(last.to, from)
      if (joins) stretches[stretches.length - 1] = { ...last, joined: true }
      const closes = k === own.length - 1 && turns[i + 1]?.strophe !== turn.strophe
      stretches.push({ from, to, at, before, stanzas, joins, joined: false, closes })
      at = plus(at, minus(to, from))
    })
  })
  return stretches
}

type Name = (id: SignId, before: number) => SignId

function namer({ voices }: Score): Name {
  const taken = new Set<string>(
    voices.flatMap(({ events, marks }) => [...events, ...marks].flatMap(({ id }) => id ?? [])),
  )
  return (id, before) => {
    if (before === 0) return id
    let name = `${id}.again${before + 1}`
    while (taken.has(name)) name += "_"
    return signId(name)
  }
}

function sungVoice(
  voice: ScoreVoice,
  stretches: readonly Stretch[],
  name: Name,
  duration: Rational,
  problems: Problem[],
): ScoreVoice {
  const events: ScoreEvent[] = []
  for (const stretch of stretches) addEvents(events, voice, stretch, name, problems)
  const last = events.at(-1)
  if (last?.kind === "note") events[events.length - 1] = { ...last, held: true }
  const sung = new Set(events.map(({ id }) => id))
  const inside = <T extends { readonly onset: Rational }>(all: readonly T[], end: Rational) =>
    stretches.flatMap(stretch =>
      all
        .filter(one => isIn(one.onset, stretch, end))
        .map(one => ({ one, stretch, onset: plus(stretch.at, minus(one.onset, stretch.from)) })),
    )
  const written = voice.events.at(-1) ? endOf(voice.events.at(-1)!) : ZERO
  const placedAgain = <T extends { readonly onset: Rational; readonly before: SignId | null }>(
    all: readonly T[],
  ): T[] =>
    inside(all, written).map(({ one, stretch, onset }) => ({
      ...one,
      onset,
      before: one.before && name(one.before, stretch.before),
    }))
  return {
    ...voice,
    events,
    mensurations: again(voice.mensurations, stretches),
    signatures: again(voice.signatures, stretches),
    brackets: stretches
      .flatMap(({ before }) =>
        voice.brackets.map(one => ({ ...one, from: name(one.from, before), to: name(one.to, before) })),
      )
      .filter(
        (one, i, all) =>
          sung.has(one.from) &&
          sung.has(one.to) &&
          all.findIndex(other => other.kind === one.kind && other.from === one.from) === i,
      ),
    marks: inside(voice.marks, written)
      .filter(({ one }) => !WRITTEN_OUT.has(one.of))
      .map(({ one, stretch, onset }) => ({ ...one, id: name(one.id, stretch.before), onset })),
    signs: withoutRepetition(placedAgain(voice.signs)),
    strokes: placedAgain(voice.strokes),
    breaks: placedAgain(voice.breaks).filter(
      ({ before }) => before === null || voice.events.some(({ id }) => id === before),
    ),
    sectionEnds: [
      ...inside(
        voice.sectionEnds.map(onset => ({ onset })),
        written,
      ).map(({ onset }) => onset),
      ...stretches.filter(({ closes }) => closes).map(({ from, to, at }) => plus(at, minus(to, from))),
    ].filter((at, i, all) => compare(at, duration) < 0 && all.findIndex(one => equals(one, at)) === i),
  }
}

/** A sign that is in force already is not said again where the music goes back to it. */
function withoutRepetition(signs: readonly ScoreSign[]): ScoreSign[] {
  return signs.filter(({ written }, i) => {
    const before = signs[i - 1]?.written
    return (
      !before ||
      !(before.id === written.id || isDrawnAlike(before, written)) ||
      signs.findIndex(one => one.written.id === written.id) === i
    )
  })
}

function isDrawnAlike(a: ScoreSign["written"], b: ScoreSign["written"]): boolean {
  return JSON.stringify({ ...a, id: "" }) === JSON.stringify({ ...b, id: "" })
}

/** At the very end stands what follows the last note. */
const isIn = (onset: Rational, { from, to }: Stretch, end: Rational): boolean =>
  compare(from, onset) <= 0 && (compare(onset, to) < 0 || (equals(onset, end) && equals(to, end)))

const endOf = ({ onset, duration }: ScoreEvent): Rational => plus(onset, duration)

/** What is in force at the beginning of each stretch is said there, and what changes in it where it changes. */
function again<T extends { readonly onset: Rational }>(all: readonly T[], stretches: readonly Stretch[]): T[] {
  return stretches.flatMap(({ from, to, at, joins }) => {
    const inForce = all.findLast(({ onset }) => compare(onset, from) <= 0)
    const changes = all.filter(({ onset }) => compare(from, onset) < 0 && compare(onset, to) < 0)
    const first = inForce && !(joins && compare(inForce.onset, from) < 0) ? [{ ...inForce, onset: at }] : []
    return [...first, ...changes.map(one => ({ ...one, onset: plus(at, minus(one.onset, from)) }))]
  })
}

function addEvents(events: ScoreEvent[], voice: ScoreVoice, stretch: Stretch, name: Name, problems: Problem[]): void {
  const { from, to, at, before, joins } = stretch
  for (const event of voice.events) {
    const start = max(event.onset, from)
    const end = compare(endOf(event), to) > 0 ? to : endOf(event)
    if (compare(start, end) >= 0) continue
    const onset = plus(at, minus(start, from))
    const duration = minus(end, start)
    const last = events.at(-1)
    if (joins && compare(event.onset, from) < 0 && last) {
      events[events.length - 1] = { ...last, duration: plus(last.duration, duration) }
      continue
    }
    if (isCut(event, stretch) && event.kind === "note") problems.push(cutNote(voice, event))
    const sung = sungEvent(event, { onset, duration }, stretch, name, before)
    events.push(compare(event.onset, from) < 0 ? apart(sung, name) : sung)
  }
}

/** It does not go on in the stretch that joins, or did not begin in the one before. */
const isCut = (event: ScoreEvent, { from, to, joined }: Stretch): boolean =>
  compare(event.onset, from) < 0 || (compare(to, endOf(event)) < 0 && !joined)

/** The rest of a note that was cut has an id of its own. */
const apart = (event: ScoreEvent, name: Name): ScoreEvent =>
  event.id === null ? event : ({ ...event, id: name(event.id, 1) } as ScoreEvent)

function sungEvent(
  event: ScoreEvent,
  when: Pick<ScoreEvent, "onset" | "duration">,
  { stanzas }: Stretch,
  name: Name,
  before: number,
): ScoreEvent {
  const id = event.id && name(event.id, before)
  if (event.kind === "rest") return { ...event, ...when, id }
  return {
    ...event,
    ...when,
    id: id!,
    readDuration: equals(event.duration, event.readDuration) ? when.duration : event.readDuration,
    syllables: wordsOf(event, stanzas),
  }
}

/** The words of the stanzas that are sung, numbered anew from 1. */
function wordsOf({ syllables }: ScoreNote, stanzas: readonly number[]): Syllable[] {
  return syllables.flatMap(syllable => {
    const at = stanzas.indexOf(syllable.stanza)
    return at < 0 ? [] : [{ ...syllable, stanza: at + 1 }]
  })
}

function cutNote(voice: ScoreVoice, note: ScoreNote): Problem {
  const number = voice.events.filter(({ sign, onset }) => sign !== null && compare(onset, note.onset) <= 0).length
  return {
    code: "repeat-cuts-note",
    what: `A repeat or ending begins or ends while ${voice.label} ${number} is sung; the note is cut there.`,
    where: { sign: note.sign },
    mend: "Look whether the voices have parted before it, or ask for the repeats as signs.",
  }
}
