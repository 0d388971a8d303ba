/** Syllables under a note as MEI verses. */
import { compare } from "../../../base/index.js"
import type { ScoreNote, ScoreVoice } from "../../../score/index.js"
import type { Syllable } from "../../../page/index.js"
import { byStanza, wordPlaces, type WordPlace } from "../../word-places.js"
import { element, type XmlElement } from "../../xml.js"

/** The engraver draws small notes at three quarters of the size. */
const ENLARGED = "133.3%"
const CONNECTORS: Readonly<Record<Syllable["join"], string>> = { "-": "d", " ": "s", _: "u", "~": "b" }
const PLACES: Readonly<Record<WordPlace, string | undefined>> = { single: undefined, begin: "i", middle: "m", end: "t" }

/**
 * For each note of a voice its verses, one for each stanza that has a syllable there; of several the first tells its number.
 * `enlarged`: notes whose words an engraver would make as small as the notes are.
 */
export function versesOf(
  voice: ScoreVoice,
  enlarged: (note: ScoreNote) => boolean = () => false,
): ReadonlyMap<ScoreNote, readonly XmlElement[]> {
  const placeOf = wordPlaces()
  const verses = new Map<ScoreNote, XmlElement[]>()
  const untold = numbered(voice)
  const first = firstNumbered(voice)
  for (const event of voice.events) {
    if (event.kind !== "note" || event.syllables.length === 0) continue
    verses.set(
      event,
      byStanza(event.syllables).map(([stanza, own]) => {
        const isTold = !(first && compare(event.onset, first.onset) < 0) && untold.delete(stanza)
        const number = isTold ? numberOf(stanza) : []
        return element(
          "verse",
          { n: stanza },
          ...number,
          ...own.map(syllable => sylOf(syllable, placeOf(syllable), enlarged(event))),
        )
      }),
    )
  }
  return verses
}

/** The stanzas of the voice, if it has more than one: a single one bears no number (common practice). */
function numbered({ events }: ScoreVoice): Set<number> {
  const all = new Set<number>()
  for (const event of events)
    if (event.kind === "note") for (const { stanza, italic } of event.syllables) if (!italic) all.add(stanza)
  return all.size > 1 ? all : new Set()
}

/**
 * Where a section begins with the second line of words, the first being sung alone before: there both have their numbers.
 * Undefined where the lines begin together.
 */
function firstNumbered({ events, marks }: ScoreVoice): ScoreNote | undefined {
  const sung = events.filter((event): event is ScoreNote => event.kind === "note" && event.syllables.length > 0)
  const second = sung.find(({ syllables }) => syllables.some(({ stanza }) => stanza !== sung[0]!.syllables[0]!.stanza))
  if (!second || second === sung[0] || new Set(second.syllables.map(({ stanza }) => stanza)).size < 2) return undefined
  const isNew = marks.some(({ of, onset }) => BEGINNINGS.has(of) && compare(onset, second.onset) === 0)
  return isNew ? second : undefined
}
const BEGINNINGS: ReadonlySet<string> = new Set(["repeat-start", "section", "refrain-start", "refrain-end"])

/** Only where the stanza begins: at the head of further systems it would stand on the hyphens of words that go on. */
const numberOf = (stanza: number): XmlElement[] => [element("label", {}, `${stanza}.`)]

function sylOf({ text, join, italic }: Syllable, place: WordPlace, enlarged: boolean): XmlElement {
  const style = { ...(italic && { fontstyle: "italic" }), ...(enlarged && { fontsize: ENLARGED }) }
  const shown = italic || enlarged ? element("rend", style, text) : text
  return element("syl", { wordpos: PLACES[place], con: CONNECTORS[join] }, shown)
}
