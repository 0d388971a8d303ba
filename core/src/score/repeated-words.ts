/**
 * "ij" under the notes: the words before it are sung again. An edition writes them out, in italics since the page does not
 * have them there: one syllable to each note or ligature, the last to the last (common practice of editions).
 */
import type { ScoreBracket, ScoreEvent, ScoreNote, ScoreSyllable } from "./types.js"

const AGAIN = /^(ij|iij|ii|ji)\.?$/i
const ENDS_PHRASE = /[,.;:!?]$/

/** Where there is no room for the words, the sign stays, in italics. */
export function withRepeatedWords(events: readonly ScoreEvent[], brackets: readonly ScoreBracket[]): ScoreEvent[] {
  const notes = events.filter(event => event.kind === "note")
  const stanzas = new Set(notes.flatMap(({ syllables }) => syllables.map(({ stanza }) => stanza)))
  if (!notes.some(({ syllables }) => syllables.some(isAgain))) return [...events]
  const bearers = bearersIn(events, brackets)
  const changed = new Map<ScoreNote, readonly ScoreSyllable[]>()
  for (const stanza of stanzas)
    for (const { at, words } of repetitionsIn(bearers, events, stanza)) {
      const others = changed.get(at) ?? at.syllables.filter(one => !(one.stanza === stanza && isAgain(one)))
      changed.set(
        at,
        [...others, ...words].toSorted((a, b) => a.stanza - b.stanza),
      )
    }
  return events.map(event => {
    const syllables = event.kind === "note" ? changed.get(event) : undefined
    return syllables ? ({ ...event, syllables } as ScoreNote) : event
  })
}

const isAgain = ({ text }: ScoreSyllable): boolean => AGAIN.test(text.trim())

/** Notes that can have a syllable: of a ligature only the first, unless the page says otherwise. */
function bearersIn(events: readonly ScoreEvent[], brackets: readonly ScoreBracket[]): ScoreNote[] {
  const ends = new Map(brackets.filter(({ kind }) => kind === "ligature").map(({ from, to }) => [from, to]))
  const bearers: ScoreNote[] = []
  let until: string | undefined
  for (const event of events) {
    if (event.kind === "note" && (until === undefined || event.syllables.length > 0)) bearers.push(event)
    if (event.id !== null) until ??= ends.get(event.id)
    if (event.id === until) until = undefined
  }
  return bearers
}

interface Repetition {
  readonly at: ScoreNote
  readonly words: readonly ScoreSyllable[]
}

/** New words by note, in one stanza. */
function repetitionsIn(bearers: readonly ScoreNote[], events: readonly ScoreEvent[], stanza: number): Repetition[] {
  const own = (note: ScoreNote): readonly ScoreSyllable[] => note.syllables.filter(one => one.stanza === stanza)
  const afterRest = new Set(events.filter((_, i) => events[i - 1]?.kind === "rest"))
  const found: Repetition[] = []
  let phrase: ScoreSyllable[] = []
  bearers.forEach((note, i) => {
    const syllables = own(note)
    const again = syllables.find(isAgain)
    if (again) {
      const next = bearers.findIndex((other, k) => k > i && own(other).length > 0)
      found.push(...underlaid(phrase, again, bearers.slice(i, next < 0 ? undefined : next)))
    } else if (syllables.length > 0) {
      const begins =
        afterRest.has(note) || /^\p{Lu}/u.test(syllables[0]!.text) || ENDS_PHRASE.test(phrase.at(-1)?.text ?? "")
      phrase = begins && phrase.at(-1)?.join !== "-" ? [...syllables] : [...phrase, ...syllables]
    }
  })
  return found
}

function underlaid(phrase: readonly ScoreSyllable[], sign: ScoreSyllable, notes: readonly ScoreNote[]): Repetition[] {
  const [first] = notes
  if (!first) return []
  if (phrase.length === 0 || phrase.length > notes.length) return [{ at: first, words: [{ ...sign, italic: true }] }]
  return phrase.map((syllable, i) => {
    const isLast = i === phrase.length - 1
    const at = isLast ? notes.at(-1)! : notes[i]!
    return { at, words: [{ ...syllable, italic: true, repeated: true }] }
  })
}
