/** The parts of a piece, from mark to mark, and the order in which they are sung. */
import { compare, equals, type Rational } from "../base/index.js"
import type { FormStep } from "../page/index.js"
import { distinct, structureOf, type Structure } from "./structure.js"
import type { Score } from "./types.js"

export interface FormEnding {
  readonly from: Rational
  readonly stanzas: readonly number[]
}

/** A part of the piece as it is written. */
export interface FormPart {
  /** "A", "B" … in the order of the page. */
  readonly name: string
  readonly from: Rational
  readonly to: Rational
  /** Where the open ending begins, and the closed one, with the stanzas that have words in it. */
  readonly open?: FormEnding
  readonly closed?: FormEnding
  readonly refrain: boolean
  /** How often it is sung at once, going back to the part with this index. */
  readonly repeat?: { readonly from: number; readonly times: number }
  /** Stanzas that have words here, in order. */
  readonly stanzas: readonly number[]
}

/** A part sung through. */
export interface FormTurn {
  readonly part: number
  /** Where the part has two: the open one (1) or the closed (2). */
  readonly ending: 1 | 2
  /** Numbers of the stanzas whose words stand under it. */
  readonly stanzas: readonly number[]
  /** Which strophe it belongs to, from 1. */
  readonly strophe: number
}

export interface Form {
  readonly parts: readonly FormPart[]
  readonly strophes: number
}

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

/** The parts: cut at repeats, refrains and marks of sections; endings belong to the part before them. */
export function formOf(score: Score): Form {
  const structure = structureOf(score)
  const stops = stopsOf(structure, score.duration)
  const bounds = stops.slice(0, -1).map((from, i) => ({ from, to: stops[i + 1]! }))
  const parts = bounds.map((bound, i): FormPart => {
    const endings = structure.endings.filter(one => within(one.from, bound))
    const open = endings.find(({ number }) => number === 1)?.from
    const closed = endings.find(({ number }) => number === 2)?.from
    const repeat = repeatAt(i, bounds, structure, score)
    return {
      name: LETTERS[i % LETTERS.length]!,
      ...bound,
      ...(open && { open: { from: open, stanzas: stanzasIn(score, { from: open, to: closed ?? bound.to }) } }),
      ...(closed && { closed: { from: closed, stanzas: stanzasIn(score, { from: closed, to: bound.to }) } }),
      refrain: structure.refrains.some(({ from, to }) => compare(from, bound.from) <= 0 && compare(bound.to, to) <= 0),
      ...(repeat && { repeat }),
      stanzas: stanzasIn(score, bound),
    }
  })
  return { parts, strophes: strophesOf(parts) }
}

interface Bound {
  readonly from: Rational
  readonly to: Rational
}
const within = (at: Rational, { from, to }: Bound): boolean => compare(from, at) <= 0 && compare(at, to) < 0

/** A repeat's end before a closed ending does not end the part; the closed ending does. */
function stopsOf({ starts, ends, endings, refrains, sections }: Structure, end: Rational): Rational[] {
  const closed = endings.filter(({ number }) => number === 2)
  const inEnding = (at: Rational): boolean => closed.some(one => compare(one.from, at) <= 0 && compare(at, one.to) < 0)
  const all = [
    ...starts,
    ...ends.filter(at => !inEnding(at)),
    ...closed.map(({ to }) => to),
    ...refrains.flatMap(({ from, to }) => [from, to]),
    ...sections,
  ]
  const inner = all.filter(at => at.num > 0 && compare(at, end) < 0).toSorted(compare)
  return distinct([{ num: 0, den: 1 }, ...inner, end])
}

function repeatAt(
  i: number,
  bounds: readonly Bound[],
  { starts, ends, endings, sections }: Structure,
  score: Score,
): FormPart["repeat"] {
  const bound = bounds[i]!
  const own = endings.filter(({ from }) => within(from, bound))
  const closed = own.find(({ number }) => number === 2)
  const end = ends.find(at => equals(at, bound.to) || (closed && equals(at, closed.from)))
  if (!end && own.length < 2) return undefined
  const back = [...starts, ...ends, ...sections].filter(
    at => compare(at, bound.to) < 0 && !(closed && equals(at, closed.from)),
  )
  const start = back.toSorted(compare).at(-1)
  const from = start ? bounds.findIndex(one => equals(one.from, start)) : 0
  return { from: from < 0 || from > i ? i : from, times: timesSung(score, end) }
}

const WORDS: Readonly<Record<string, number>> = { bis: 2, ter: 3, quater: 4 }

/** "3", "ter" at the repeat's end: sung so often (as many times as the repeat has strokes or dots); else twice. */
function timesSung({ voices }: Score, end: Rational | undefined): number {
  const marks = voices.flatMap(voice =>
    voice.marks.filter(({ of, onset }) => of === "repeat-end" && end && equals(onset, end)),
  )
  const text =
    marks
      .find(mark => mark.text !== undefined)
      ?.text?.trim()
      .toLowerCase() ?? ""
  const number = WORDS[text] ?? Number(/^([2-9])\s*(x|×|times)?$/.exec(text)?.[1] ?? 2)
  return number
}

function stanzasIn({ voices }: Score, bound: Bound): number[] {
  const all = voices.flatMap(({ events }) =>
    events.flatMap(event =>
      event.kind === "note" && within(event.onset, bound) ? event.syllables.map(({ stanza }) => stanza) : [],
    ),
  )
  return [...new Set(all)].sort((a, b) => a - b)
}

/** How often a part is sung in one strophe. */
function turnsIn(part: number, parts: readonly FormPart[]): number {
  return parts.reduce(
    (all, { repeat }, i) => (repeat && repeat.from <= part && part <= i ? all + repeat.times - 1 : all),
    1,
  )
}

/** A refrain at the beginning: its first words come back at the end of each strophe, its further words before that. */
const opensWithRefrain = (parts: readonly FormPart[]): boolean => parts.length > 1 && parts[0]!.refrain

function strophesOf(parts: readonly FormPart[]): number {
  const needed = parts.map(({ stanzas, refrain }, i) =>
    refrain
      ? i === 0 && opensWithRefrain(parts)
        ? stanzas.length - 1
        : 1
      : Math.ceil(stanzas.length / turnsIn(i, parts)),
  )
  return Math.max(1, ...needed)
}

/**
 * The order in which the parts are sung. Without `all` it is that of one strophe, the words of the others under the same
 * notes; with it strophe follows strophe. An order that an editor states goes before what the marks say.
 */
export function orderOf(score: Score, form: Form, stated: readonly FormStep[] | undefined, all: boolean): FormTurn[] {
  if (stated) return statedOrder(form, stated)
  const strophes = all ? form.strophes : 1
  const turns: FormTurn[] = []
  for (let strophe = 1; strophe <= strophes; strophe++) turns.push(...stropheOf(score, form, strophe, all))
  return turns
}

function statedOrder({ parts }: Form, stated: readonly FormStep[]): FormTurn[] {
  // the open ending where the same part comes next
  return stated.flatMap(({ part: name, stanza = 1 }, i) => {
    const part = parts.findIndex(one => one.name === name)
    const ending = stated[i + 1]?.part === name ? 1 : 2
    return part < 0 ? [] : [{ part, ending, stanzas: [stanza], strophe: 1 }]
  })
}

function stropheOf(score: Score, form: Form, strophe: number, all: boolean): FormTurn[] {
  const { parts } = form
  const counts = parts.map(() => 0)
  const turns: FormTurn[] = []
  const sing = (part: number, ending: 1 | 2): void => {
    const turn = (counts[part]! += 1)
    turns.push({ part, ending, stanzas: wordsAt(parts, part, turn, strophe, all), strophe })
  }
  const opening = opensWithRefrain(parts)
  const cues = refrainCues(score)
  parts.forEach((part, i) => {
    // sung once, before all strophes: it has come back at the end of the last one
    const often = part.repeat?.times ?? 1
    if (!(opening && i === 0 && strophe > 1)) sing(i, often > 1 ? 1 : 2)
    for (let n = 2; n <= often; n++) for (let k = part.repeat!.from; k <= i; k++) sing(k, k < i || n === often ? 2 : 1)
    if (cues.some(at => equals(at, part.to))) turns.push(...refrainsAgain(parts, strophe))
  })
  if (opening && cues.length === 0) turns.push(...refrainBack(parts, strophe, all))
  turns.push(...fromTheBeginning(score, form, strophe))
  return turns
}

const again = (part: number, strophe: number, stanzas: readonly number[] = [1]): FormTurn => ({
  part,
  ending: 2,
  stanzas,
  strophe,
})

const refrainsAgain = (parts: readonly FormPart[], strophe: number): FormTurn[] =>
  parts.flatMap(({ refrain }, part) => (refrain ? [again(part, strophe)] : []))

/** Where a refrain is called for without music of its own. */
function refrainCues(score: Score): Rational[] {
  return structureOf(score).refrains.flatMap(({ from, to }) => (equals(from, to) ? [from] : []))
}

/** The refrain's music with the strophe's own words, if it has such, and then the refrain (virelai, ballata). */
function refrainBack(parts: readonly FormPart[], strophe: number, all: boolean): FormTurn[] {
  const further = parts[0]!.stanzas.slice(1)
  const words = all ? further.slice(strophe - 1, strophe) : further
  return [...(words.length > 0 ? [again(0, strophe, words)] : []), again(0, strophe)]
}

const DA_CAPO = /^(da capo|d\.? ?c\.?|a principio|ab initio|ut in principio|reincipe)\b/i
const FINE = /^fine?(is)?\.?$/i

/** "Da capo" sends back to the beginning, up to "fine", or else up to the end of the first part. */
function fromTheBeginning(score: Score, { parts }: Form, strophe: number): FormTurn[] {
  const texts = score.voices.flatMap(voice => voice.marks.filter(({ of, text }) => of === "text" && text !== undefined))
  if (!texts.some(({ text }) => DA_CAPO.test(text!.trim()))) return []
  const fine = texts.find(({ text }) => FINE.test(text!.trim()))?.onset
  const last = fine ? parts.findLastIndex(part => compare(part.to, fine) <= 0) : 0
  return parts.slice(0, Math.max(0, last) + 1).map((_, part) => again(part, strophe))
}

/** Which words a part takes when it is sung for the nth time in a strophe. */
function wordsAt(parts: readonly FormPart[], part: number, turn: number, strophe: number, all: boolean): number[] {
  const { stanzas, refrain } = parts[part]!
  const turns = turnsIn(part, parts)
  if (stanzas.length === 0) return []
  if (refrain && part === 0 && opensWithRefrain(parts)) return stanzas.slice(0, 1)
  if (refrain || stanzas.length < turns)
    return all ? [stanzas[Math.min(stanzas.length, refrain ? strophe : turn) - 1]!] : [...stanzas]
  const own = stanzas.filter((_, i) => i % turns === (turn - 1) % turns)
  return all ? own.slice(Math.min(strophe, own.length) - 1).slice(0, 1) : own
}

/** From where to where a turn is sung, and with which stanzas' words. */
export function stretchesOf(turn: FormTurn, { parts }: Form): (Bound & Pick<FormTurn, "stanzas">)[] {
  const { from, to, open, closed } = parts[turn.part]!
  const { stanzas } = turn
  if (!open || !closed) return [{ from, to, stanzas }]
  const body = { from, to: open.from, stanzas }
  if (turn.ending === 1) return [body, { from: open.from, to: closed.from, stanzas: wordsOfEnding(turn, open) }]
  return [body, { from: closed.from, to, stanzas: wordsOfEnding(turn, closed) }]
}

/** An ending is sung once in a strophe: words that stand under it alone are its words, whatever their line. */
function wordsOfEnding({ stanzas, strophe }: FormTurn, ending: FormEnding): readonly number[] {
  if (ending.stanzas.length === 0 || stanzas.some(one => ending.stanzas.includes(one))) return stanzas
  return stanzas.length === 1 ? ending.stanzas.slice(strophe - 1).slice(0, 1) : ending.stanzas
}
