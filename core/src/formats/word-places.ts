/** Where in its word a syllable stands. */
import type { Syllable } from "../page/index.js"

export type WordPlace = "single" | "begin" | "middle" | "end"

/** For one voice, syllable by syllable in their order: whether a word is open tells where in it the next one stands. */
export function wordPlaces(): (syllable: Syllable) => WordPlace {
  const open = new Map<number, boolean>()
  return ({ stanza, join }) => {
    const within = open.get(stanza) ?? false
    const goesOn = join === "-"
    open.set(stanza, goesOn)
    if (within) return goesOn ? "middle" : "end"
    return goesOn ? "begin" : "single"
  }
}

/** The syllables of a note by stanza, stanzas in order. */
export function byStanza(syllables: readonly Syllable[]): [stanza: number, own: Syllable[]][] {
  const stanzas = [...new Set(syllables.map(({ stanza }) => stanza))].sort((a, b) => a - b)
  return stanzas.map(stanza => [stanza, syllables.filter(one => one.stanza === stanza)])
}
