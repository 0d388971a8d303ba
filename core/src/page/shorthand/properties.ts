/** What can be said of each kind of sign, in the order in which the printer says it. */
import type {
  AccidentalSign,
  Break,
  Clef,
  Comment,
  Custos,
  Dot,
  Ligature,
  Mark,
  MensurationSign,
  Note,
  Other,
  Proportion,
  Rest,
  Sign,
  Signature,
  Stroke,
} from "../signs.js"
import { coloration, COMMON, given, initial, near } from "./properties-common.js"
import { MENSURATION } from "./properties-of-mensuration.js"
import { NOTE } from "./properties-of-notes.js"
import { choice, measured, numeric, pitched, textual, truth, type Property } from "./property.js"
import { HIGHEST } from "./tokens.js"

const REST: readonly Property<Rest>[] = [
  coloration<Rest>(),
  numeric<Rest>("loc", -HIGHEST, HIGHEST),
  near<Rest>(),
  truth<Rest>("fermata"),
  given<Rest>(),
]
const DOT: readonly Property<Dot>[] = [
  choice<Dot, "given">("given", { aug: "aug", div: "div" }),
  textual<Dot>("form"),
  numeric<Dot>("loc", -HIGHEST, HIGHEST),
]
const STROKE: readonly Property<Stroke>[] = [
  measured<Stroke>("length"),
  numeric<Stroke>("loc", -HIGHEST, HIGHEST),
  near<Stroke>(),
]
const LIGATURE: readonly Property<Ligature>[] = [
  choice<Ligature, "form">("form", { recta: "recta", obliqua: "obliqua" }),
  choice<Ligature, "propriety">("propriety", {
    "cum-proprietate": "cum",
    "sine-proprietate": "sine",
    "opposita-proprietate": "opposita",
  }),
  choice<Ligature, "perfection">("perfection", { "cum-perfectione": "cum", "sine-perfectione": "sine" }),
  truth<Ligature>("conjunctura"),
]

const CLEF: readonly Property<Clef>[] = [numeric<Clef>("octaveShift", -3, 3, "octave"), initial<Clef>()]
const ACCIDENTAL: readonly Property<AccidentalSign>[] = [
  pitched<AccidentalSign>("pitch", "at"),
  truth<AccidentalSign>("byEditor", "by-editor"),
]

/** By kind; each list begins with what is the kind's own. */
export const PROPERTIES: { readonly [K in Sign["kind"]]: readonly Property<Extract<Sign, { kind: K }>>[] } = {
  note: [...NOTE, ...common<Note>()],
  rest: [...REST, ...common<Rest>()],
  dot: [...DOT, ...common<Dot>()],
  stroke: [...STROKE, ...common<Stroke>()],
  ligature: [...LIGATURE, ...common<Ligature>()],
  mensuration: [...MENSURATION, ...common<MensurationSign>()],
  proportion: common<Proportion>(),
  clef: [...CLEF, ...common<Clef>()],
  signature: [initial<Signature>(), ...common<Signature>()],
  accidental: [...ACCIDENTAL, ...common<AccidentalSign>()],
  custos: common<Custos>(),
  break: common<Break>(),
  mark: common<Mark>(),
  comment: common<Comment>(),
  other: common<Other>(),
}
function common<S extends Sign>(): readonly Property<S>[] {
  return COMMON as unknown as readonly Property<S>[]
}
