/**
 * How an edition is written: one value for all that an editor chooses, and one table that says what there is to choose
 * from, in which the command line, the styles and the preface have their words.
 */
import { USUAL_CLEFS, type ClefConventions } from "./clefs.js"

/** One way of doing it. */
export interface ConventionChoice {
  readonly value: string
  /** A few words for a list. */
  readonly short: string
  /** For the preface; undefined where there is nothing to be said. */
  readonly sentence?: string
}
/** Something that editions do in one way or another. */
export interface Convention {
  readonly name: string
  /** What is chosen. */
  readonly about: string
  /** The first is the usual one. */
  readonly choices: readonly [ConventionChoice, ...ConventionChoice[]]
}

const choice = <V extends string>(value: V, short: string, sentence?: string) => ({ value, short, sentence })

/** All conventions that are a choice among a few, by name. */
const TABLE = {
  bars: {
    about: "bar lines",
    choices: [
      choice(
        "own",
        "each voice its own bars, by its mensuration",
        "Each voice has the bars of its own mensuration; where those of several voices end together, one line ends them all.",
      ),
      choice(
        "full",
        "on each staff, by the mensuration of most voices",
        "The bar lines are those of the mensuration that most voices have at the time, and stand on every staff.",
      ),
      choice(
        "through",
        "through all staves, by the mensuration of most voices",
        "The bar lines are those of the mensuration that most voices have at the time, and run through all staves.",
      ),
      choice(
        "between",
        "between the staves only, by the mensuration of most voices",
        "The lines between the staves are those of the mensuration that most voices have at the time; they help the eye and mean no accent.",
      ),
      choice(
        "ticks",
        "as small ticks over the staves, by the mensuration of most voices",
        "The small ticks over the staves show the mensuration that most voices have at the time; they help the eye and mean no accent.",
      ),
    ],
  },
  overLines: {
    about: "notes that sound over a bar line",
    choices: [
      choice("tied", "parted and tied", "A note that sounds on over a bar line is written as two, tied."),
      choice(
        "whole",
        "written whole",
        "A note that sounds on over a bar line keeps its whole value and stands where it begins; only what no single note can show is tied.",
      ),
    ],
  },
  ligatures: {
    about: "ligatures",
    choices: [
      choice(
        "bracket",
        "a solid bracket over the notes",
        "A solid bracket over the notes shows a ligature of the source.",
      ),
      choice("none", "not shown", "The ligatures of the source are not shown."),
    ],
  },
  coloration: {
    about: "coloured notes",
    choices: [
      choice(
        "corners",
        "open corners over the notes",
        "Two open corners over the notes show coloration in the source.",
      ),
      choice("none", "not shown", "The coloration of the source is not shown."),
    ],
  },
  plicas: {
    about: "plicas",
    choices: [
      choice(
        "small-note",
        "a small slashed note",
        "A plica is a small slashed note after the one that bears it, from which it takes its time.",
      ),
      choice(
        "dotted-slur",
        "a small note under a dotted slur, with its share of the time",
        "A plica is a small note with its share of the time, joined by a dotted slur to the note that bears it.",
      ),
    ],
  },
  cautionary: {
    about: "cautionary accidentals",
    choices: [
      choice(
        "usual",
        "where a singer may hesitate",
        "Accidentals in parentheses remind the singer of what is in force, or that an inflection heard shortly before, in another octave too, holds no longer.",
      ),
      choice(
        "many",
        "also after an inflection in another voice",
        "Accidentals in parentheses remind the singer of what is in force, or that an inflection heard shortly before, in another octave or another voice too, does not hold.",
      ),
      choice(
        "none",
        "only what is needed",
        "Accidentals in parentheses stand elsewhere in the source and are in force.",
      ),
    ],
  },
  stanzas: {
    about: "stanzas",
    choices: [
      choice("all", "all under the notes"),
      choice("first", "the first under the notes", "Only the first stanza stands under the notes."),
    ],
  },
  supplied: {
    about: "notes, rests and dots that the editor supplied or corrected",
    choices: [
      choice(
        "brackets",
        "in square brackets",
        "Notes, rests and dots in square brackets are the editor’s: the source has nothing there, or something else.",
      ),
      choice(
        "small",
        "small, a rest through a whole bar and a dot in square brackets",
        "Small notes and rests are the editor’s, and so is a bar’s rest or a dot in square brackets: the source has nothing there, or something else.",
      ),
      choice(
        "none",
        "like the others",
        "What the editor supplied or corrected is written like all the rest; the report tells it.",
      ),
    ],
  },
  suppliedText: {
    about: "words that are repeated or supplied",
    choices: [
      choice("italic", "in italics", "Words in italics are repeated or supplied by the editor."),
      choice("plain", "like the others"),
    ],
  },
  extenders: {
    about: "lines after the last syllable of a word",
    choices: [
      choice("melismas", "where it is sung to several notes up to the next"),
      choice("source", "where the file has them"),
      choice("none", "none"),
    ],
  },
  signs: {
    about: "signs of mensuration and proportion",
    choices: [
      choice(
        "changes",
        "over the staff where they change",
        "Signs of mensuration and proportion stand over the staff where they change in the source.",
      ),
      choice(
        "all",
        "over the staff, at the beginning too",
        "Signs of mensuration and proportion stand over the staff where the source has them.",
      ),
      choice("none", "not shown"),
    ],
  },
  sourceBreaks: {
    about: "where the lines and folios of the source end",
    choices: [
      choice("none", "not shown"),
      choice("folios", "folios", "A stroke over the staff with the number of the folio shows where one begins."),
      choice(
        "lines",
        "folios and lines",
        "A small stroke over the staff shows where a line of the source ends, and one with a number where a folio begins.",
      ),
    ],
  },
  finals: {
    about: "finals that are held",
    choices: [
      choice("fermata", "a fermata", "The final of each voice is held to the common end under a fermata."),
      choice("long", "one long note", "The final of each voice is one long note, held to the common end."),
    ],
  },
  divisionStrokes: {
    about: "strokes that divide",
    choices: [
      choice("shown", "over the staff", "Small strokes over the staff are strokes of division in the source."),
      choice("none", "not shown"),
    ],
  },
  ficta: {
    about: "accidentals that are proposed (musica ficta)",
    choices: [
      choice("none", "none"),
      choice(
        "required",
        "those that the intervals ask for",
        "Accidentals over the notes are proposed: here those without which a fifth, octave or fourth would be false.",
      ),
      choice(
        "likely",
        "also those of the usual cadences",
        "Accidentals over the notes are proposed: those without which a fifth, octave or fourth would be false, and those of the usual cadences.",
      ),
      choice(
        "optional",
        "also those that one may sing",
        "Accidentals over the notes are proposed, those too that one may as well leave out.",
      ),
    ],
  },
} as const satisfies Readonly<Record<string, Omit<Convention, "name">>>

type Table = typeof TABLE
type Chosen = { readonly [Name in keyof Table]: Table[Name]["choices"][number]["value"] }

/** All that an editor chooses of how the music is written. */
export interface EditionConventions extends Chosen {
  readonly clefs: ClefConventions
  /** 4 means 1:4; "usual" is what the practice of the piece has. A power of two from 1 to 32. */
  readonly reduction: "usual" | number
}

/** Name of a convention that is a choice among a few. */
export type ConventionName = keyof Table

/** The conventions that are a choice among a few, in the order of a preface. */
export const CONVENTIONS: readonly (Convention & { readonly name: ConventionName })[] = (
  Object.entries(TABLE) as [ConventionName, Omit<Convention, "name">][]
).map(([name, rest]) => ({ name, ...rest }))

const first = Object.fromEntries(CONVENTIONS.map(({ name, choices }) => [name, choices[0].value])) as unknown as Chosen

/** What holds where nothing is chosen. */
export const USUAL_CONVENTIONS: EditionConventions = { ...first, clefs: USUAL_CLEFS, reduction: "usual" }

/** What is chosen, and the usual for the rest; under lines that do not part the notes these are whole unless said otherwise. */
export function conventionsWith(
  chosen: Partial<EditionConventions>,
  base: EditionConventions = USUAL_CONVENTIONS,
): EditionConventions {
  const given = Object.fromEntries(Object.entries(chosen).filter(([, value]) => value !== undefined))
  const all: EditionConventions = { ...base, ...given }
  if (chosen.bars === undefined || chosen.overLines !== undefined) return all
  return { ...all, overLines: chosen.bars === "between" || chosen.bars === "ticks" ? "whole" : "tied" }
}
