/** The conventions of an edition told in sentences, as its preface prints them. */
import { toText } from "../base/index.js"
import { usualReduction, type Score } from "../score/index.js"
import { clefFor, type ClefName } from "./clefs.js"
import { barsFor } from "./notated.js"
import { CONVENTIONS, type EditionConventions } from "./conventions.js"

/**
 * Whole sentences in the order of a preface. With the score they say what its values and clefs are, and leave out what it
 * does not have; without, they speak of any piece.
 */
export function conventionsInWords(conventions: EditionConventions, score?: Score): string[] {
  const chosen = CONVENTIONS.flatMap(({ name, choices }) => {
    if (score && !has(score, name, conventions)) return []
    const chosen = name === "bars" && score ? barsFor(conventions, score) : conventions[name]
    return choices.find(({ value }) => value === chosen)?.sentence ?? []
  })
  const always = [
    "Accidentals before the note stand in the source; those over it are the editor’s, and hold for that note alone.",
  ]
  return [...values(conventions, score), ...clefs(conventions, score), ...chosen, ...always]
}

function values({ reduction }: EditionConventions, score: Score | undefined): string[] {
  const by = reduction === "usual" ? score && usualReduction(score.practice) : reduction
  if (by === undefined) return ["Note values are shortened as is usual for music of its time."]
  const { num, den } = score?.sharedProportion ?? { num: 1, den: 1 }
  const shared = num === den ? [] : [`The proportion ${toText({ num, den })} that all voices share is cancelled.`]
  return [
    by === 1 ? "Note values are those of the source." : `Note values are shortened to 1:${by} of those of the source.`,
    ...shared,
  ]
}

const CLEF_WORDS: Readonly<Record<ClefName, string>> = {
  treble: "the treble clef",
  "treble-8": "the treble clef that sounds an octave lower",
  bass: "the bass clef",
  alto: "the alto clef",
  tenor: "the tenor clef",
  soprano: "the soprano clef",
  "mezzo-soprano": "the mezzo-soprano clef",
  baritone: "the baritone clef",
}

function clefs({ clefs }: EditionConventions, score: Score | undefined): string[] {
  if (!score)
    return [
      `Each voice has the modern clef that suits its range: ${listed(
        clefs.from.map(name => CLEF_WORDS[name]),
        "or",
      )}.`,
    ]
  const byClef = new Map<ClefName, string[]>()
  for (const voice of score.voices) {
    const { name } = clefFor(voice, clefs)
    byClef.set(name, [...(byClef.get(name) ?? []), voice.label])
  }
  if (byClef.size === 0) return []
  const parts = [...byClef].map(
    ([name, labels]) => `${listed(labels, "and")} ${labels.length > 1 ? "have" : "has"} ${CLEF_WORDS[name]}`,
  )
  return [`Of the modern clefs, ${listed(parts, "and")}.`]
}

function listed(words: readonly string[], joint: "and" | "or"): string {
  if (words.length < 2) return words.join("")
  return `${words.slice(0, -1).join(", ")} ${joint} ${words.at(-1)}`
}

/** Strokes that make bar lines. */
const UNMARKED: ReadonlySet<string> = new Set(["finis-punctorum", "bar"])

/** Whether the score has anything that the convention is about. */
function has(score: Score, name: string, { signs }: EditionConventions): boolean {
  const { voices } = score
  const notes = voices.flatMap(voice => voice.events.filter(event => event.kind === "note"))
  const syllables = notes.flatMap(note => note.syllables)
  switch (name) {
    case "ligatures":
      return voices.some(voice => voice.brackets.some(({ kind }) => kind === "ligature"))
    case "coloration":
      return voices.some(voice => voice.brackets.some(({ kind }) => kind === "coloration"))
    case "plicas":
      return notes.some(note => note.plica)
    case "signs":
      return voices.some(voice => voice.signs.some(({ onset }) => signs === "all" || onset.num > 0))
    case "sourceBreaks":
      return voices.some(({ breaks }) => breaks.length > 0)
    case "divisionStrokes":
      return voices.some(({ strokes }) => strokes.some(({ written }) => !UNMARKED.has(written.form)))
    case "supplied":
      return voices.some(({ events }) => events.some(({ hand }) => hand !== undefined))
    case "suppliedText":
      return syllables.some(({ italic }) => italic)
    case "stanzas":
      return syllables.some(({ stanza }) => stanza > 1)
    default:
      return true
  }
}
