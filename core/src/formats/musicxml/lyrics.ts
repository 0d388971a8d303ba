/** Syllables under a note as MusicXML lyrics. */
import type { Syllable } from "../../page/index.js"
import type { ScoreNote, ScoreVoice } from "../../score/index.js"
import { byStanza, wordPlaces, type WordPlace } from "../word-places.js"
import { element, type XmlElement } from "../xml.js"

/** For each note of a voice its lyrics, one for each stanza that has a syllable there. */
export function lyricsOf(voice: ScoreVoice): ReadonlyMap<ScoreNote, readonly XmlElement[]> {
  const placeOf = wordPlaces()
  const lyrics = new Map<ScoreNote, XmlElement[]>()
  for (const event of voice.events) {
    if (event.kind !== "note" || event.syllables.length === 0) continue
    lyrics.set(
      event,
      byStanza(event.syllables).map(([stanza, own]) => lyric(stanza, own, placeOf)),
    )
  }
  return lyrics
}

/** Several syllables on one note stand in one lyric, with the sign of elision between them, or a space where none is meant. */
function lyric(stanza: number, own: readonly Syllable[], placeOf: (syllable: Syllable) => WordPlace): XmlElement {
  const parts = own.flatMap((syllable, i) => {
    const before = own[i - 1]
    const text = element("text", syllable.italic ? { "font-style": "italic" } : {}, syllable.text)
    const words = [element("syllabic", {}, placeOf(syllable)), text]
    return before ? [element("elision", {}, before.join === "~" ? "\u203f" : "\u00a0"), ...words] : words
  })
  const extended = own.at(-1)?.join === "_"
  return element("lyric", { number: stanza }, ...parts, extended ? element("extend") : undefined)
}
