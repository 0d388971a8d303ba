/** For tests: the plainest page there is, with whatever has to be on it. */
import { signId, voiceId } from "../../base/index.js"
import type { Page, Voice } from "../page.js"
import type { Note, Sign } from "../signs.js"

/** A black breve, or with `parts` another note. */
export const plainNote = (id: string, parts: Partial<Note> = {}): Note => ({
  kind: "note",
  id: signId(id),
  level: "brevis",
  coloration: "none",
  stems: [],
  syllables: [],
  ...parts,
})

/** Voice "2" has the id v2. */
export const plainVoice = (n: string, signs: readonly Sign[], label = n): Voice => ({
  id: voiceId(`v${n}`),
  n,
  label,
  lines: 5,
  notation: "black",
  signs,
})

export const plainPage = (voices: readonly Voice[]): Page => ({
  title: "Invented",
  shapes: [],
  surfaces: [],
  zones: [],
  alternatives: [],
  voices,
})
