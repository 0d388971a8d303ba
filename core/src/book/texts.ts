/** The words of each voice: syllables joined to words again, stanza by stanza and section by section. */
import { flatSigns, type Page, type Sign, type Syllable, type Voice } from "../page/index.js"

/** A stretch of words in one type. */
export interface TextRun {
  readonly text: string
  /** Repeated or supplied. */
  readonly italic: boolean
}
export interface TextStanza {
  /** From 1. */
  readonly number: number
  readonly runs: readonly TextRun[]
}
export interface TextSection {
  /** "Refrain", or what the page writes over it; undefined where it only goes on. */
  readonly name?: string
  readonly stanzas: readonly TextStanza[]
}
export interface VoiceText {
  /** Labels of all voices that have these words. */
  readonly voices: readonly string[]
  /** Without any where the voices have no words. */
  readonly sections: readonly TextSection[]
}

/** In the order of the voices; voices with the same words stand together, those without any at the end. */
export function textsOf(page: Page): VoiceText[] {
  const texts = new Map<string, { voices: string[]; sections: TextSection[] }>()
  for (const voice of page.voices) {
    const sections = sectionsOf(voice)
    const key = JSON.stringify(sections)
    const known = texts.get(key)
    if (known) known.voices.push(voice.label || voice.n)
    else texts.set(key, { voices: [voice.label || voice.n], sections })
  }
  const all = [...texts.values()]
  return [...all.filter(one => one.sections.length > 0), ...all.filter(one => one.sections.length === 0)]
}

/** All words of a text in one line each. */
export const stanzaText = ({ runs }: TextStanza): string => runs.map(run => run.text).join("")

interface Open {
  readonly name?: string
  readonly stanzas: Map<number, Syllable[]>
}

function sectionsOf(voice: Voice): TextSection[] {
  const open: Open[] = [{ stanzas: new Map() }]
  for (const { sign } of flatSigns(voice)) {
    const next = opens(sign)
    if (next) open.push({ stanzas: new Map(), ...(next.name === undefined ? {} : { name: next.name }) })
    if (sign.kind !== "note") continue
    const { stanzas } = open.at(-1)!
    for (const syllable of sign.syllables)
      stanzas.set(syllable.stanza, [...(stanzas.get(syllable.stanza) ?? []), syllable])
  }
  return open.filter(({ stanzas }) => stanzas.size > 0).map(sectionOf)
}

function opens(sign: Sign): { readonly name?: string } | undefined {
  if (sign.kind === "stroke") return sign.form === "finis-punctorum" ? {} : undefined
  if (sign.kind !== "mark") return undefined
  if (sign.of === "refrain-start") return { name: sign.text?.trim() || "Refrain" }
  if (sign.of === "refrain-end") return {}
  if (sign.of === "section") return sign.text?.trim() ? { name: sign.text.trim() } : {}
  return undefined
}

function sectionOf({ name, stanzas }: Open): TextSection {
  const numbers = [...stanzas.keys()].sort((a, b) => a - b)
  return {
    ...(name === undefined ? {} : { name }),
    stanzas: numbers.map(number => ({ number, runs: runsOf(stanzas.get(number)!) })),
  }
}

/** Syllables one after another: joined within a word, parted by a space else; an elision by a tie between the words. */
function runsOf(syllables: readonly Syllable[]): TextRun[] {
  const runs: { text: string; italic: boolean }[] = []
  syllables.forEach(({ text, join, italic = false }, i) => {
    const said = text.replace(/\s+/g, " ").trim() + (i < syllables.length - 1 ? AFTER[join] : "")
    const last = runs.at(-1)
    if (last && last.italic === italic) last.text += said
    else runs.push({ text: said, italic })
  })
  const last = runs.at(-1)
  if (last) last.text = last.text.trimEnd()
  return runs.filter(run => run.text !== "")
}
/** U+203F is the tie that joins two vowels sung as one. */
const AFTER: Readonly<Record<Syllable["join"], string>> = { "-": "", " ": " ", _: " ", "~": "\u203F" }
