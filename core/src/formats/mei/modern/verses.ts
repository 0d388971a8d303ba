/** Syllables under a note as MEI verses. */
import type { ScoreNote, ScoreVoice } from "../../../score/index.js"
import type { Syllable } from "../../../page/index.js"
import { element, type XmlElement } from "../../xml.js"

const CONNECTORS: Readonly<Record<Syllable["join"], string>> = { "-": "d", " ": "s", _: "u", "~": "b" }

/** For each note of a voice its verses, one for each stanza that has a syllable there. */
export function versesOf(voice: ScoreVoice): ReadonlyMap<ScoreNote, readonly XmlElement[]> {
  const open = new Map<number, boolean>()
  const verses = new Map<ScoreNote, XmlElement[]>()
  for (const event of voice.events) {
    if (event.kind !== "note" || event.syllables.length === 0) continue
    const stanzas = [...new Set(event.syllables.map(syllable => syllable.stanza))].sort((a, b) => a - b)
    verses.set(
      event,
      stanzas.map(stanza => {
        const own = event.syllables.filter(syllable => syllable.stanza === stanza)
        return element("verse", { n: stanza }, ...own.map(syllable => sylOf(syllable, open)))
      }),
    )
  }
  return verses
}

/** Whether a word is open tells where in it the syllable stands. */
function sylOf(syllable: Syllable, open: Map<number, boolean>): XmlElement {
  const within = open.get(syllable.stanza) ?? false
  const goesOn = syllable.join === "-"
  open.set(syllable.stanza, goesOn)
  const wordpos = within ? (goesOn ? "m" : "t") : goesOn ? "i" : undefined
  const text = syllable.italic ? element("rend", { fontstyle: "italic" }, syllable.text) : syllable.text
  return element("syl", { wordpos, con: CONNECTORS[syllable.join] }, text)
}
