/** Syllables under a note as MEI verses. */
import type { ScoreNote, ScoreVoice } from "../../../score/index.js"
import type { Syllable } from "../../../page/index.js"
import { byStanza, wordPlaces, type WordPlace } from "../../word-places.js"
import { element, type XmlElement } from "../../xml.js"

const CONNECTORS: Readonly<Record<Syllable["join"], string>> = { "-": "d", " ": "s", _: "u", "~": "b" }
const PLACES: Readonly<Record<WordPlace, string | undefined>> = { single: undefined, begin: "i", middle: "m", end: "t" }

/** For each note of a voice its verses, one for each stanza that has a syllable there. */
export function versesOf(voice: ScoreVoice): ReadonlyMap<ScoreNote, readonly XmlElement[]> {
  const placeOf = wordPlaces()
  const verses = new Map<ScoreNote, XmlElement[]>()
  for (const event of voice.events) {
    if (event.kind !== "note" || event.syllables.length === 0) continue
    verses.set(
      event,
      byStanza(event.syllables).map(([stanza, own]) =>
        element("verse", { n: stanza }, ...own.map(syllable => sylOf(syllable, placeOf(syllable)))),
      ),
    )
  }
  return verses
}

function sylOf({ text, join, italic }: Syllable, place: WordPlace): XmlElement {
  const shown = italic ? element("rend", { fontstyle: "italic" }, text) : text
  return element("syl", { wordpos: PLACES[place], con: CONNECTORS[join] }, shown)
}
