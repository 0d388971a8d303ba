/** Why a note lasts so long, in a few words; the sentence is for the line below the figure. Names of the rules in plain English. */
import type { TimedSign, TimeVoice } from "../../drawing/index.js"
import type { SignReading } from "../../reading/index.js"

const WORDS: Readonly<Record<string, string>> = {
  "similis-ante-similem": "stays whole: its like follows",
  "number-complete": "stays whole",
  "imperfectio-a-parte-post": "gives its last third",
  "imperfectio-a-parte-ante": "gives its first third",
  "imperfectio-ab-utraque-parte": "gives half a third at each side",
  "imperfectio-ad-partem": "a part of it gives way",
  "imperfectio-ad-totum-et-partem": "gives a third, and of a part",
  alteratio: "doubled",
  "alteratio-et-imperfectio": "doubled, then gives a part",
  "punctus-perfectionis": "kept whole by the dot",
  "punctus-additionis": "the dot adds half",
  syncopatio: "counted with later ones",
  "breves-in-threes": "counted in threes",
  "count-from-zero": "counted in threes",
  closure: "so that all is filled",
  "duplex-longa": "two longs in one body",
  "semibreves-undivided": "in a run without dots",
  "semibreves-pro-altera": "in the place of an altera",
  "via-naturae": "by nature",
  "via-artis": "by its stem",
  "stem-lengthens": "made longer by its tail",
  suspirium: "gives a breath",
  coloratio: "colour takes a third",
  semicoloratio: "half of it coloured",
  "minor-color": "a coloured pair",
  "isolated-black": "coloured by itself",
  "black-minims": "by their number",
  "local-shape": "by its own shape",
  decision: "an editor’s decision",
  given: "stated in the file",
}

/** "" where nothing acted, or where sign and count say all: parts of a breve are many, and short. */
export const fewWords = (reading: SignReading): string => WORDS[reading.rule] ?? ""

/** With what a dot after it does, where that is not why it lasts so long. */
export function fewWordsWithDot({ reading, after }: TimedSign, voice: TimeVoice): string {
  const own = fewWords(reading)
  const divides = after.some(
    dot => voice.reading.signs.find(one => one.id === dot.id)?.takenFor === "punctus-divisionis",
  )
  return divides ? [own, "the dot divides"].filter(one => one !== "").join("; ") : own
}

const NAMES: Readonly<Record<string, string>> = {
  "similis-ante-similem": "Like before like",
  "number-complete": "Perfection, the number complete",
  "nothing-acts": "Perfection",
  "imperfectio-a-parte-post": "Imperfection by what follows",
  "imperfectio-a-parte-ante": "Imperfection by what precedes",
  "imperfectio-ab-utraque-parte": "Imperfection from both sides",
  "imperfectio-ad-partem": "Imperfection of a part",
  "imperfectio-ad-totum-et-partem": "Imperfection of the whole and of a part",
  alteratio: "Alteration",
  "alteratio-et-imperfectio": "Alteration and imperfection",
  "punctus-perfectionis": "Dot of perfection",
  "punctus-divisionis": "Dot of division",
  "punctus-additionis": "Dot of addition",
  syncopatio: "Syncopation",
  "breves-in-threes": "Breves in threes",
  "count-from-zero": "Breves in threes",
  closure: "Perfections filled",
  "duplex-longa": "Double long",
  "semibrevis-minor-maior": "Two semibreves on a breve",
  "semibreves-aequales": "Three semibreves on a breve",
  "semibreves-undivided": "Semibreves without division",
  "semibreves-pro-altera": "Semibreves for an altera",
  "brevis-divisa": "The divided breve",
  "via-naturae": "By nature",
  "via-artis": "By art",
  "stem-lengthens": "The tail of a semibreve",
  ligatura: "Ligatures",
  conjunctura: "Currentes",
  plica: "Plica",
  "pausa-manet": "Rests",
  suspirium: "Suspirium",
  "finis-punctorum": "Finis punctorum",
  coloratio: "Coloration",
  semicoloratio: "Half coloration",
  "minor-color": "Minor color",
  "isolated-black": "A single coloured note",
  "black-minims": "Black minims",
  proportio: "Proportion",
  "local-shape": "A shape of its own",
  "as-written": "Values",
}
/** "Alteration": the rule's name for a caption. */
export const ruleName = (rule: string): string => NAMES[rule] ?? ""
