import * as fc from "fast-check"
import { expect, it } from "vitest"
import type { CanonEntry, CanonSign, CanonStatement, CanonVoice } from "../canon.js"
import type { Decision } from "../decision.js"
import type { FormStep } from "../form.js"
import type { Alternative, LocalShape, Page, Surface, Voice, Zone } from "../page.js"
import type { Editorial, Given, Mark, Note, Pitch, Plica, Sign, Signature, Stem, Stroke, Syllable } from "../signs.js"
import { everySign } from "../walk.js"
import type { Years } from "../years.js"
import { randomPage } from "./random-page.js"

/** Every member of a type, of a union those of all its parts: one that is added to the type has to be added here. */
type Members<T> = Record<T extends unknown ? keyof T : never, true>
const SIGN = { id: true, zone: true, editorial: true, extra: true, kind: true } as const

const SIGNS: { readonly [K in Sign["kind"]]: Members<Extract<Sign, { kind: K }>> } = {
  note: {
    ...SIGN,
    level: true,
    pitch: true,
    accidental: true,
    accidentalByEditor: true,
    accidentalInForce: true,
    coloration: true,
    stems: true,
    plica: true,
    duplex: true,
    wide: true,
    oblique: true,
    head: true,
    shape: true,
    fermata: true,
    syllables: true,
    given: true,
  },
  rest: { ...SIGN, level: true, spaces: true, loc: true, coloration: true, fermata: true, near: true, given: true },
  dot: { ...SIGN, loc: true, form: true, given: true },
  stroke: { ...SIGN, form: true, length: true, loc: true, near: true },
  ligature: { ...SIGN, members: true, form: true, propriety: true, perfection: true, conjunctura: true },
  mensuration: {
    ...SIGN,
    sign: true,
    dots: true,
    strokes: true,
    reversed: true,
    orientation: true,
    figures: true,
    letter: true,
    modusMaior: true,
    modusMinor: true,
    tempus: true,
    prolatio: true,
    num: true,
    numbase: true,
    level: true,
    shape: true,
    initial: true,
  },
  proportion: { ...SIGN, num: true, numbase: true },
  clef: { ...SIGN, shape: true, line: true, octaveShift: true, initial: true },
  signature: { ...SIGN, accidentals: true, initial: true },
  accidental: { ...SIGN, accidental: true, pitch: true, byEditor: true },
  custos: { ...SIGN, pitch: true },
  break: { ...SIGN, of: true, n: true },
  mark: { ...SIGN, of: true, text: true },
  comment: { ...SIGN, text: true },
  other: { ...SIGN, name: true },
}
const PARTS = {
  page: {
    title: true,
    years: true,
    voices: true,
    shapes: true,
    surfaces: true,
    zones: true,
    alternatives: true,
    decisions: true,
    people: true,
  } satisfies Members<Page>,
  years: { made: true, copied: true } satisfies Members<Years>,
  voice: {
    id: true,
    n: true,
    label: true,
    lines: true,
    staffColour: true,
    notation: true,
    practice: true,
    signs: true,
  } satisfies Members<Voice>,
  practice: { name: true, options: true } satisfies Members<NonNullable<Voice["practice"]>>,
  shape: {
    name: true,
    description: true,
    level: true,
    count: true,
    minims: true,
    glyph: true,
  } satisfies Members<LocalShape>,
  surface: { id: true, label: true, image: true, box: true } satisfies Members<Surface>,
  zone: { id: true, surface: true, box: true } satisfies Members<Zone>,
  alternative: {
    id: true,
    voice: true,
    insteadOf: true,
    editorial: true,
    what: true,
    signs: true,
  } satisfies Members<Alternative>,
  pitch: { step: true, octave: true } satisfies Members<Pitch>,
  stem: { direction: true, position: true, length: true, form: true, flag: true } satisfies Members<Stem>,
  flag: { position: true, form: true } satisfies Members<NonNullable<Stem["flag"]>>,
  plica: { direction: true, strokes: true, length: true } satisfies Members<Plica>,
  syllable: { stanza: true, text: true, join: true, italic: true } satisfies Members<Syllable>,
  given: { quality: true, num: true, numbase: true } satisfies Members<Given>,
  editorial: { kind: true, resp: true, cert: true, reason: true, source: true } satisfies Members<Editorial>,
  degree: { step: true, accidental: true, octave: true } satisfies Members<Signature["accidentals"][number]>,
  decision: {
    id: true,
    sign: true,
    label: true,
    who: true,
    why: true,
    duration: true,
    not: true,
    dot: true,
    canon: true,
    form: true,
    accidental: true,
    notAccidental: true,
  } satisfies Members<Decision>,
  canonVoice: { label: true, entry: true, interval: true, steps: true, statements: true } satisfies Members<CanonVoice>,
  canonEntry: { after: true, level: true, signum: true } satisfies Members<CanonEntry>,
  canonStatement: {
    values: true,
    sign: true,
    backwards: true,
    inverted: true,
    withoutRests: true,
    until: true,
  } satisfies Members<CanonStatement>,
  canonSign: { sign: true, dots: true, strokes: true, figures: true, reversed: true } satisfies Members<CanonSign>,
  formStep: { part: true, stanza: true } satisfies Members<FormStep>,
}
/** Words that stand for one of several things. */
const WORDS = {
  coloration: {
    none: true,
    red: true,
    "red-void": true,
    void: true,
    black: true,
    other: true,
    "half-left": true,
    "half-right": true,
    "half-top": true,
    "half-bottom": true,
  } satisfies Record<Note["coloration"], true>,
  stroke: {
    "divisio-modi": true,
    "signum-perfectionis": true,
    "signum-rotundum": true,
    "divisio-syllabarum": true,
    suspirium: true,
    "finis-punctorum": true,
    bar: true,
  } satisfies Record<Stroke["form"], true>,
  mark: {
    "signum-congruentiae": true,
    "repeat-start": true,
    "repeat-end": true,
    "ending-open": true,
    "ending-closed": true,
    "refrain-start": true,
    "refrain-end": true,
    canon: true,
    text: true,
    section: true,
    numeral: true,
  } satisfies Record<Mark["of"], true>,
  hand: {
    supplied: true,
    unclear: true,
    corr: true,
    lem: true,
    rdg: true,
    reg: true,
    add: true,
  } satisfies Record<Editorial["kind"], true>,
  what: { sic: true, rdg: true, orig: true, corr: true, reg: true, lem: true } satisfies Record<
    Alternative["what"],
    true
  >,
  join: { "-": true, " ": true, _: true, "~": true } satisfies Record<Syllable["join"], true>,
}

/** What has been met: `note.level`, `coloration=red`. */
class Met {
  readonly all = new Set<string>()
  is(what: keyof typeof WORDS, word: string): void {
    this.all.add(`${what}=${word}`)
  }
  has(name: string, ...values: readonly (object | undefined)[]): void {
    for (const value of values)
      for (const [key, one] of Object.entries(value ?? {})) if (one !== undefined) this.all.add(`${name}.${key}`)
  }
  page(page: Page): void {
    this.has("page", page)
    this.has("years", page.years)
    this.has("shape", ...page.shapes)
    this.has("surface", ...page.surfaces)
    this.has("zone", ...page.zones)
    this.has("voice", ...page.voices)
    this.has("practice", ...page.voices.map(one => one.practice))
    this.has("alternative", ...page.alternatives)
    for (const { what, editorial, signs } of page.alternatives) {
      this.is("what", what)
      this.has("editorial", editorial)
      this.signs(signs)
    }
    for (const { signs } of page.voices) this.signs(signs)
    for (const one of page.decisions ?? []) this.decision(one)
  }
  private signs(signs: readonly Sign[]): void {
    for (const sign of everySign(signs)) {
      this.has(sign.kind, sign)
      this.has("editorial", sign.editorial)
      if (sign.editorial) this.is("hand", sign.editorial.kind)
      if ("pitch" in sign) this.has("pitch", sign.pitch)
      if ("coloration" in sign) this.is("coloration", sign.coloration)
      if (sign.kind === "note") this.note(sign)
      if (sign.kind === "rest") this.has("given", sign.given)
      if (sign.kind === "stroke") this.is("stroke", sign.form)
      if (sign.kind === "mark") this.is("mark", sign.of)
      if (sign.kind === "signature") this.has("degree", ...sign.accidentals)
    }
  }
  private note({ stems, plica, syllables, given }: Note): void {
    this.has("stem", ...stems)
    this.has("flag", ...stems.map(one => one.flag))
    this.has("plica", plica)
    this.has("syllable", ...syllables)
    this.has("given", given)
    for (const { join } of syllables) this.is("join", join)
  }
  private decision(decision: Decision): void {
    this.has("decision", decision)
    this.has("formStep", ...(decision.form ?? []))
    for (const voice of decision.canon ?? []) {
      this.has("canonVoice", voice)
      this.has("canonEntry", voice.entry)
      this.has("canonStatement", ...voice.statements)
      this.has("canonSign", ...voice.statements.map(one => one.sign))
    }
  }
}

it("gives pages that JSON can hold, with an id for every sign, and in the end all that a page can hold", () => {
  const met = new Met()
  fc.assert(
    fc.property(randomPage(), page => {
      expect(JSON.parse(JSON.stringify(page))).toEqual(page)
      const signs = page.voices.flatMap(voice => [...everySign(voice.signs)])
      const ids = [...signs, ...page.alternatives.flatMap(one => [...everySign(one.signs)])].map(sign => sign.id)
      expect(new Set(ids).size).toBe(ids.length)
      met.page(page)
    }),
    // always the same pages: what is rare must not be missing by chance
    { numRuns: 100, seed: 1 },
  )
  const members = Object.entries({ ...SIGNS, ...PARTS }).flatMap(([name, all]) =>
    Object.keys(all).map(key => `${name}.${key}`),
  )
  const words = Object.entries(WORDS).flatMap(([name, all]) => Object.keys(all).map(word => `${name}=${word}`))
  expect([...members, ...words].filter(one => !met.all.has(one))).toEqual([])
})
