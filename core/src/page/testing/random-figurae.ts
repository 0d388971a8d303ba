/** Random notes, rests and ligatures. */
import * as fc from "fast-check"
import { ratio } from "../../base/index.js"
import type { Dot, Given, Ligature, Note, Other, Plica, Rest, Stem, Syllable } from "../signs.js"
import {
  accidental,
  coloration,
  common,
  halves,
  id,
  level,
  loc,
  pick,
  pitch,
  syllableText,
  type Names,
  type Notation,
} from "./random-parts.js"

const stem: fc.Arbitrary<Stem> = pick<Stem>(
  { direction: fc.constantFrom("up", "down", "left", "right", "ne", "nw", "se", "sw") },
  {
    position: fc.constantFrom("left", "right", "center"),
    length: halves,
    form: fc.constantFrom("oblique", "circle", "swallowtail", "virgula"),
    flag: pick<{ position?: string; form?: string }>(
      {},
      {
        form: fc.constantFrom("straight", "angled", "curled", "flared", "extended", "hooked"),
        position: fc.constantFrom("left", "right", "center"),
      },
    ),
  },
)

const plica: fc.Arbitrary<Plica> = pick<Plica>(
  {},
  { direction: fc.constantFrom("up", "down"), strokes: fc.constantFrom(1, 2), length: halves },
)

const join = fc.constantFrom<Syllable["join"]>("-", " ", "_")
const syllables: fc.Arbitrary<Syllable[]> = fc
  .tuple(
    fc.subarray([1, 2, 3]),
    fc.boolean(),
    fc.infiniteStream(pick<Syllable>({ text: syllableText, join }, { italic: fc.constant(true) })),
  )
  .map(([stanzas, elided, texts]) => {
    const all: Syllable[] = stanzas.map(stanza => ({ ...texts.next().value, stanza }))
    const first = all[0]
    return elided && first
      ? [{ ...first, join: "~" as const }, { ...texts.next().value, stanza: first.stanza }, ...all.slice(1)]
      : all
  })

const QUALITIES = ["perfecta", "imperfecta", "altera", "minor", "maior"] as const
const given: fc.Arbitrary<Given> = fc
  .record(
    {
      quality: fc.constantFrom(...QUALITIES),
      num: fc.integer({ min: 1, max: 5 }),
      numbase: fc.integer({ min: 1, max: 5 }),
    },
    { requiredKeys: [] },
  )
  .map(found => (Object.keys(found).length > 0 ? withoutContradiction(found) : { quality: "altera" as const }))

/** The quality goes where it contradicts the numbers: a reader would tell of that. */
function withoutContradiction({ quality, ...numbers }: Given): Given {
  if (quality === undefined) return numbers
  const part = (numbers.numbase ?? NaN) / (numbers.num ?? NaN)
  const doubled = quality === "altera" || quality === "maior"
  const fits = Number.isNaN(part) || (doubled ? part > 1 && part <= 2 : part > 0.67 && part <= 1.5)
  return fits ? { quality, ...numbers } : numbers
}

const noteParts = (notation: Notation, names: Names) => ({
  accidental,
  accidentalByEditor: fc.constant(true),
  accidentalInForce: fc.constantFrom("s", "f", "n", "ss", "ff"),
  plica,
  duplex: fc.constant(true),
  wide: fc.constant(true),
  shape: fc.constantFrom(...names.shapes),
  fermata: fc.constant(true),
  given,
  coloration: coloration(notation, "note"),
  ...common(names),
})

/** What the types allow but no page has: an editor's accidental that is none, a duplex longa of another level. */
function plausible(note: Note): Note {
  const { accidentalByEditor, duplex, given, ...rest } = note
  return {
    ...rest,
    ...(accidentalByEditor && note.accidental ? { accidentalByEditor } : {}),
    ...(duplex && note.level === "longa" ? { duplex } : given ? { given } : {}),
  }
}

export function note(notation: Notation, names: Names): fc.Arbitrary<Note> {
  const { coloration, ...seldom } = noteParts(notation, names)
  return pick<Note>(
    { kind: fc.constant("note"), id, level, pitch, coloration, stems: stems(), syllables },
    seldom,
  ).chain(full => fc.boolean().map(pitched => plausible(pitched || full.accidental ? full : without(full, "pitch"))))
}

function stems(): fc.Arbitrary<Stem[]> {
  return fc.oneof(
    { weight: 3, arbitrary: fc.constant<Stem[]>([]) },
    { weight: 1, arbitrary: fc.array(stem, { minLength: 1, maxLength: 2 }) },
  )
}

function without<T extends object, K extends keyof T>(whole: T, key: K): Omit<T, K> & T {
  const { [key]: _, ...rest } = whole
  return rest as T
}

export function rest(notation: Notation, names: Names): fc.Arbitrary<Rest> {
  return pick<Rest>(
    { kind: fc.constant("rest"), id, coloration: coloration(notation, "rest") },
    {
      level,
      spaces: fc.constantFrom(ratio(1), ratio(2), ratio(3), ratio(4), ratio(1, 3), ratio(2, 3), ratio(1, 2)),
      loc,
      fermata: fc.constant(true),
      near: fc.constantFrom("previous", "next"),
      given,
      ...common(names),
    },
  ).map(one => (one.level === undefined && one.spaces === undefined ? { ...one, level: "brevis" } : one))
}

export function dot(names: Names): fc.Arbitrary<Dot> {
  return pick<Dot>(
    { kind: fc.constant("dot"), id },
    { loc, form: fc.constantFrom("pontellus", "void"), given: fc.constantFrom("aug", "div"), ...common(names) },
  ).map(one => (one.form && one.given ? without(one, "given") : one))
}

export function ligature(notation: Notation, names: Names): fc.Arbitrary<Ligature> {
  const { coloration: colour, ...seldom } = noteParts(notation, names)
  const member = pick<Note>(
    {
      kind: fc.constant("note"),
      id,
      pitch,
      coloration: colour,
      stems: stems(),
      syllables: fc.constant([]),
    },
    {
      ...seldom,
      level,
      oblique: fc.constant(true),
      head: fc.constantFrom("over", "beside"),
    },
  ).map(plausible)
  const other = pick<Other>(
    { kind: fc.constant("other"), id, name: fc.constantFrom("handShift", "gap") },
    common(names),
  )
  const between = fc.option(
    fc.oneof(
      { weight: 4, arbitrary: dot(names) },
      { weight: 1, arbitrary: rest(notation, names) },
      { weight: 1, arbitrary: other },
    ),
    { nil: undefined, freq: 1 },
  )
  const members = fc
    .array(fc.tuple(member, fc.boolean(), between), { minLength: 2, maxLength: 5 })
    .map(all => all.flatMap(([one, follows, sign]) => (follows && sign ? [one, sign] : [one])))
    .map(all => withPossibleObliques(all))
  return pick<Ligature>(
    { kind: fc.constant("ligature"), id, members },
    {
      form: fc.constantFrom("recta", "obliqua"),
      propriety: fc.constantFrom("cum", "sine", "opposita"),
      perfection: fc.constantFrom("cum", "sine"),
      conjunctura: fc.constant(true),
      ...common(names),
    },
  )
}

/** An oblique body ends on the note right after, so the last note has none and no two follow each other. */
function withPossibleObliques(members: Ligature["members"]): Ligature["members"] {
  let before = false
  return members.map((member, index) => {
    if (member.kind !== "note" || !member.oblique) {
      before = false
      return member
    }
    const possible = !before && members[index + 1]?.kind === "note"
    before = possible
    return possible ? member : without(member, "oblique")
  })
}
