/** The house style of the edition, and what is asked for before it. */
import {
  CLEF_NAMES,
  conventionsWith,
  styleNamed,
  USUAL_CONVENTIONS,
  type ClefConventions,
  type ClefName,
  type EditionConventions,
} from "@resolutio/core"
import { exportWords } from "../../words/export.js"
import type { Wishes } from "../offered.js"

/** Throws where a clef cannot be read, with a sentence. */
export function conventionsOf({ style, clefs, reduction, conventions }: Wishes): EditionConventions {
  const base = styleNamed(style)?.conventions ?? USUAL_CONVENTIONS
  const asked = clefs.trim() === "" ? base.clefs : clefsIn(clefs, base.clefs)
  return conventionsWith(
    { ...conventions, clefs: asked, ...(reduction === undefined ? {} : { reduction }) } as object,
    base,
  )
}

/** "tenor=bass; treble, bass": of one voice, and to choose from for the others. */
function clefsIn(text: string, base: ClefConventions): ClefConventions {
  let clefs = base
  for (const part of text.split(";")) {
    const at = part.lastIndexOf("=")
    const names = part
      .slice(at + 1)
      .split(",")
      .map(name => name.trim().toLowerCase())
      .filter(Boolean)
    const known = names.filter(isClef)
    if (known.length < names.length || known.length === 0 || (at >= 0 && known.length > 1))
      throw new Error(exportWords.badClef(part.trim(), CLEF_NAMES.join(", ")))
    if (at < 0) clefs = { ...clefs, from: known }
    else clefs = { ...clefs, voices: { ...clefs.voices, [part.slice(0, at).trim().toLowerCase()]: known[0]! } }
  }
  return clefs
}

const isClef = (name: string): name is ClefName => CLEF_NAMES.some(one => one === name)
