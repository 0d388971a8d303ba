/**
 * Random pages for laws: everything a page can hold, in combinations that can stand on a page. Ids are unique, texts
 * carry marks and letters that formats must escape, and what the types leave open but no page has (an oblique body on
 * the last note, black coloration in black notation, a duplex longa that is also "altera") does not occur.
 */
import * as fc from "fast-check"
import { ratio, signId, toText, voiceId } from "../../base/index.js"
import { CHOSEN_ACCIDENTALS, DECIDED_DOTS, type Decision } from "../decision.js"
import { LEVELS } from "../level.js"
import { everySign } from "../walk.js"
import type { Alternative, LocalShape, Page, Surface, Voice, Zone } from "../page.js"
import type { Sign } from "../signs.js"
import { FIRST_YEAR, LAST_YEAR, type Years, type YearSpan } from "../years.js"
import { editorial, pick, text, type Names, type Notation } from "./random-parts.js"
import { canon, form } from "./random-canon.js"
import { ligature, note, rest } from "./random-figurae.js"
import { initialSigns, otherSign } from "./random-signs.js"

/** A sign without an id yet. */
type Draft = Sign

/** A stretch of a voice, with the readings that were not chosen for it. */
interface Stretch {
  readonly signs: readonly Draft[]
  readonly instead?: readonly (Omit<Alternative, "id" | "voice" | "insteadOf"> & { from: number; to: number })[]
}

const NAMES: Names = {
  shapes: ["dragma", "hooked one", "fusiel"],
  people: ["editor1", "editor2"],
  sources: ["srcA", "srcB"],
  zones: ["zone1", "zone2", "zone3"],
}

/** A page with up to four voices, each of at most `signs` stretches (12 unless said). */
export function randomPage(options: { signs?: number; voices?: number } = {}): fc.Arbitrary<Page> {
  const drafts = fc.array(voice(options.signs ?? 12), { minLength: 1, maxLength: options.voices ?? 4 })
  return fc
    .record({ title: text, dated: years, drafts, shapes: localShapes, surfaces, zones, people })
    .map(({ title, dated, drafts, ...rest }): Page => ({ title, ...dated, ...numbered(drafts), ...rest }))
    .chain(page => decisions(page).map(found => (found.length > 0 ? { ...page, decisions: found } : page)))
}

const span: fc.Arbitrary<YearSpan> = fc
  .tuple(fc.integer({ min: FIRST_YEAR, max: LAST_YEAR }), fc.constantFrom(0, 0, 1, 10, 99))
  .map(([from, wide]) => [from, Math.min(LAST_YEAR, from + wide)])
/** Said of some pieces. */
export const years: fc.Arbitrary<Pick<Page, "years">> = pick<Years>({}, { made: span, copied: span }).map(said =>
  Object.keys(said).length > 0 ? { years: said } : {},
)

/** A few decisions on the page's notes, rests and dots. */
function decisions(page: Page): fc.Arbitrary<Decision[]> {
  const signs = page.voices.flatMap(one => [...everySign(one.signs)])
  const able = signs.filter(({ kind }) => kind === "note" || kind === "rest" || kind === "dot")
  if (able.length === 0) return fc.constant([])
  return fc
    .array(decision(fc.constantFrom(...able)), { maxLength: 3 })
    .map(all => all.map((one, index): Decision => ({ ...one, id: signId(`decided${index + 1}`) })))
}

const duration = fc.constantFrom(ratio(1), ratio(6), ratio(2, 3), ratio(9, 2))

/** A decision on one of these signs; its id is still to be given. */
export function decision(signs: fc.Arbitrary<Sign>): fc.Arbitrary<Decision> {
  const by = pick<Pick<Decision, "label" | "who" | "why">>(
    {},
    { label: text, who: fc.constantFrom(...NAMES.people), why: text },
  )
  return fc
    .record({
      sign: signs,
      by,
      lasts: duration,
      not: fc.uniqueArray(duration, { minLength: 1, maxLength: 3, selector: toText }),
      dot: fc.constantFrom(...DECIDED_DOTS),
      refuses: fc.boolean(),
      whole: fc.option(
        fc.oneof(
          canon.map(canon => ({ canon })),
          fc.constantFrom(...CHOSEN_ACCIDENTALS).map(accidental => ({ accidental })),
          fc
            .uniqueArray(fc.constantFrom(...CHOSEN_ACCIDENTALS), { minLength: 1 })
            .map(notAccidental => ({ notAccidental })),
          form.map(form => ({ form })),
        ),
        { freq: 3 },
      ),
    })
    .map(({ sign, by, lasts, not, dot, refuses, whole }): Decision => {
      if (whole) return { id: signId(""), sign: sign.id, ...by, ...whole } as Decision
      const what = sign.kind === "dot" ? { dot } : refuses ? { not } : { duration: lasts }
      return { id: signId(""), sign: sign.id, ...by, ...what }
    })
}

interface VoiceDraft extends Omit<Voice, "id" | "n" | "signs"> {
  /** Its number begins so, where it is none. */
  readonly numbered?: string
  readonly initial: readonly Draft[]
  readonly stretches: readonly Stretch[]
}

function voice(most: number): fc.Arbitrary<VoiceDraft> {
  return fc.constantFrom<Notation>("black", "white", "unknown").chain(notation =>
    pick<VoiceDraft>(
      {
        label: text,
        lines: fc.integer({ min: 4, max: 6 }),
        notation: fc.constant(notation),
        initial: initialSigns(NAMES),
        stretches: fc.array(stretch(notation), { maxLength: most }),
      },
      { numbered: fc.constantFrom("a", "x y"), staffColour: fc.constant("red"), practice },
    ),
  )
}

const practice = fc.record({
  name: fc.constantFrom("ars-antiqua", "ars-nova", "white", "trecento", "modal", "our own.way"),
  options: fc.dictionary(
    fc.constantFrom("minims", "breveDivision", "groupRule", "groupRule.modus", "reversedC"),
    fc.constantFrom("written", "two-or-three", "by-threes", "4/3", "true", "a_b:c"),
  ),
})

function stretch(notation: Notation): fc.Arbitrary<Stretch> {
  const figura = fc.oneof(
    { weight: 6, arbitrary: note(notation, NAMES) },
    { weight: 1, arbitrary: rest(notation, NAMES) },
  )
  const sign = fc.oneof(
    { weight: 5, arbitrary: figura },
    { weight: 2, arbitrary: ligature(notation, NAMES) },
    { weight: 5, arbitrary: otherSign(NAMES) },
  )
  return fc.oneof(
    { weight: 12, arbitrary: sign.map(one => ({ signs: [one] })) },
    { weight: 1, arbitrary: withAlternatives(sign) },
  )
}

const WHATS = ["sic", "rdg", "orig", "corr", "reg", "lem"] as const

/** Signs for some of which the source or an editor has another reading, one within or across another now and then. */
function withAlternatives(sign: fc.Arbitrary<Draft>): fc.Arbitrary<Stretch> {
  const chosen = fc
    .tuple(sign, fc.option(editorial(NAMES), { nil: undefined }))
    .map(([{ editorial: _, ...one }, hand]) => (hand ? { ...one, editorial: hand } : one) as Draft)
  const signs = fc
    .tuple(fc.array(chosen, { minLength: 1, maxLength: 3 }), fc.boolean(), editorial(NAMES))
    .map(([all, isOne, hand]) => (isOne ? all.map(one => ({ ...one, editorial: hand })) : all))
  const other = fc.record({
    what: fc.constantFrom(...WHATS),
    editorial: editorial(NAMES),
    signs: fc.array(sign, { maxLength: 2 }),
    from: fc.nat(2),
    count: fc.integer({ min: 1, max: 3 }),
  })
  const mended = fc
    .record({ signs, wrong: signs, chosen: editorial(NAMES, ["corr"]) })
    .map(({ signs, wrong, chosen }): Stretch => ({
      signs: signs.map(one => ({ ...one, editorial: chosen })),
      instead: [{ editorial: { kind: "rdg" }, what: "sic", signs: wrong, from: 0, to: signs.length }],
    }))
  const regular = fc
    .record({ signs, smooth: signs, by: editorial(NAMES, ["reg"]) })
    .map(({ signs, smooth, by }): Stretch => ({
      signs: signs.map(({ editorial: _, ...one }) => one as Draft),
      instead: [{ editorial: by, what: "reg", signs: smooth, from: 0, to: signs.length }],
    }))
  const any = fc.tuple(signs, fc.array(other, { minLength: 1, maxLength: 3 })).map(([written, others]): Stretch => ({
    signs: written,
    instead: others.map(({ from, count, ...one }) => {
      const first = Math.min(from, written.length - 1)
      return { ...one, from: first, to: Math.min(written.length, first + count) }
    }),
  }))
  return fc.oneof(any, mended, regular)
}

function numbered(drafts: readonly VoiceDraft[]): { voices: Voice[]; alternatives: Alternative[] } {
  let running = 0
  const named = (sign: Draft): Sign => {
    const id = signId(`s${++running}`)
    if (sign.kind !== "ligature") return { ...sign, id }
    return { ...sign, id, members: sign.members.map(member => ({ ...member, id: signId(`s${++running}`) })) }
  }
  const alternatives: Alternative[] = []
  const voices = drafts.map(({ initial, stretches, numbered = "", ...draft }, index) => {
    const id = voiceId(`voice${index + 1}`)
    const signs = initial.map(named)
    for (const { signs: written, instead = [] } of stretches) {
      const chosen = written.map(named)
      signs.push(...chosen)
      for (const { from, to, ...one } of instead)
        alternatives.push({
          id: `alt${++running}`,
          voice: id,
          insteadOf: chosen.slice(from, to).map(sign => sign.id),
          ...one,
          signs: one.signs.map(named),
        })
    }
    return { ...draft, id, n: `${numbered}${index + 1}`, signs }
  })
  return { voices, alternatives }
}

const localShapes: fc.Arbitrary<LocalShape[]> = fc.subarray([...NAMES.shapes]).chain(names =>
  fc.tuple(
    ...names.map(name =>
      pick<LocalShape>(
        { name: fc.constant(name) },
        {
          description: text,
          level: fc.constantFrom(...LEVELS),
          count: fc.integer({ min: 1, max: 8 }),
          minims: fc.constantFrom(ratio(3, 2), ratio(7), ratio(2, 3)),
          glyph: fc.constantFrom("mensuralBlackDragma", "mensuralCombStemUpFlagRight"),
        },
      ),
    ),
  ),
)

const box = fc
  .tuple(fc.nat(500), fc.nat(500), fc.integer({ min: 501, max: 2000 }), fc.integer({ min: 501, max: 2000 }))
  .map(([left, top, right, bottom]) => [left, top, right, bottom] as const)
const surfaces: fc.Arbitrary<Surface[]> = fc
  .array(pick<Omit<Surface, "id">>({}, { label: text, image: fc.constantFrom("f3v.jpg", "images/4r.png"), box }), {
    minLength: 1,
    maxLength: 2,
  })
  .map(all => all.map((one, index) => ({ id: `surface${index + 1}`, ...one })))
const zones: fc.Arbitrary<Zone[]> = fc.tuple(
  ...NAMES.zones.map(id => fc.record({ id: fc.constant(id), surface: fc.constant("surface1"), box })),
)
const people = fc.record({ editor1: text, editor2: text, srcA: text, srcB: text })
