/** The plan of a voice in a sentence or two, as one would say it in a lecture. */
import { equals, ONE, toText, type Rational, type SignId } from "../../base/index.js"
import type { Repetition, Series, Statement } from "./types.js"

/** "Two colores, each of four taleae; the second color at half the durations." */
export function planOf(repetition: Repetition): string {
  const { colores, taleae } = repetition
  if (colores.length + taleae.length === 0) return "No plan of repetition shows in this voice."
  const [color, talea] = [colores[0], taleae[0]]
  const single = colores.length < 2 && taleae.length < 2
  const clauses = single ? together(color, talea, repetition) : [list(colores, "color"), list(taleae, "talea")]
  return sentence(clauses.filter(Boolean))
}

const sentence = (clauses: readonly string[]): string => {
  const text = clauses.join("; ")
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}

function together(color: Series | undefined, talea: Series | undefined, { unit }: Repetition): string[] {
  if (!talea) return [`${counted(color!)}, ${inAll(color!)}`, moved(color!), "no durations come again"]
  const ordo = unit === "tempus" ? ordoOf(talea) : ""
  if (!color) return [`${counted(talea)}, ${inAll(talea)}`, ordo, ...faster(talea), "no pitches come again"]
  const each = taleaePerColor(color, talea)
  if (each !== undefined) return [eachOf(color, each, talea), ordo, moved(color), ...fasterColores(color, talea, each)]
  return [crossing(color, talea), ordo, moved(color), ...faster(talea)]
}

function list(all: readonly Series[], of: "color" | "talea"): string {
  if (all.length === 0) return of === "color" ? "no pitches come again" : "no durations come again"
  const each = all.map(one => [`${counted(one)}, ${inAll(one)}`, moved(one), ...faster(one)].filter(Boolean).join(", "))
  return each.join(", then ")
}

/** "two colores", and what is left over of a third. */
function counted(series: Series): string {
  const whole = series.statements.filter(one => one.complete).length
  const name = (count: number) => `${word(count)} ${nameOf(series, count)}`
  if (whole === series.statements.length) return name(whole)
  const { signs } = series.statements.at(-1)!
  if (series.places.slice(signs.length).every(place => place.kind === "rest"))
    return `${name(whole + 1)} (the last without its last rest)`
  const half = signs.length * 2 < series.places.length
  return half ? `${name(whole)} and the beginning of another` : `${name(whole + 1)} (the last breaks off)`
}

function nameOf({ of }: Series, count: number): string {
  if (of === "color") return count === 1 ? "color" : "colores"
  return count === 1 ? "talea" : "taleae"
}

function inAll({ of, places }: Series): string {
  if (of === "color") return `each of ${word(places.length)} pitches`
  const notes = places.filter(place => place.kind === "note").length
  return `each of ${notesAndRests(notes, places.length - notes)}`
}

function notesAndRests(notes: number, rests: number): string {
  const plural = (count: number, one: string) => `${word(count)} ${one}${count === 1 ? "" : "s"}`
  return rests === 0 ? plural(notes, "note") : `${plural(notes, "note")} and ${plural(rests, "rest")}`
}

/** A talea of the thirteenth century that is one phrase up to its rest. */
function ordoOf({ places }: Series): string {
  const rests = places.filter(place => place.kind === "rest").length
  if (rests !== 1 || places.at(-1)!.kind !== "rest") return ""
  return `each talea is an ordo of ${notesAndRests(places.length - 1, 1)}`
}

/** How many taleae every color has, where each color begins with a talea and all have the same number. */
function taleaePerColor(color: Series, talea: Series): number | undefined {
  const starts = meetings(color, talea)
  if (starts.length !== color.statements.length) return undefined
  const each = starts.length > 1 ? starts[1]!.talea - starts[0]!.talea : 0
  const even = starts.every((one, at) => one.color === at && one.talea === at * each)
  const all = color.statements.every(one => one.complete) && talea.statements.length === each * starts.length
  return even && all ? each : undefined
}

/** Statements of both that begin with the same note. */
function meetings(color: Series, talea: Series): { color: number; talea: number }[] {
  const begin = new Map<SignId | null, number>()
  talea.statements.forEach((one, at) => begin.set(firstNote(one, talea), at))
  return color.statements.flatMap((one, at) => {
    const found = begin.get(firstNote(one, color))
    return found === undefined ? [] : [{ color: at, talea: found }]
  })
}

function firstNote({ signs }: Statement, { places }: Series): SignId | null {
  return signs.find((sign, place) => sign !== null && places[place]!.kind === "note") ?? null
}
function lastNote({ signs }: Statement, { places }: Series): SignId | null {
  return signs.findLast((sign, place) => sign !== null && places[place]!.kind === "note") ?? null
}

function eachOf(color: Series, each: number, talea: Series): string {
  const last = /\(.*\)/.exec(counted(talea))
  return `${counted(color)}, each of ${word(each)} ${nameOf(talea, each)}${last ? ` ${last[0]}` : ""}`
}

/** Colores and taleae that do not keep step. */
function crossing(color: Series, talea: Series): string {
  const again = meetings(color, talea).find(one => one.color > 0 && one.talea > 0)
  const ends = color.statements.at(-1)!.complete && lastNote(color.statements.at(-1)!, color)
  const alike = ends && ends === lastNote(talea.statements.at(-1)!, talea)
  const both = `${counted(color)} and ${counted(talea)}`
  if (again)
    return `${both}; ${spelled(color, again.color)} ${takes(again.color)} as long as ${spelled(talea, again.talea)}`
  if (alike) return `${both} in the same time, so that the pitches fall on other durations each time`
  return `${both}, which do not begin together again`
}
const spelled = (series: Series, count: number) => `${word(count)} ${nameOf(series, count)}`
const takes = (count: number) => (count === 1 ? "takes" : "take")

/** Transposed colores. */
function moved(color: Series): string {
  const parts = color.statements.flatMap(one => {
    if (one.steps === 0) return []
    const far = INTERVALS[Math.abs(one.steps)] ?? `${Math.abs(one.steps)} steps`
    return [`the ${ordinal(one.number)} color a ${far} ${one.steps > 0 ? "higher" : "lower"}`]
  })
  return parts.join(", ")
}
const INTERVALS = ["", "step", "third", "fourth", "fifth", "sixth", "seventh", "octave"]

/** Diminution color by color, where all taleae of a color agree. */
function fasterColores(color: Series, talea: Series, each: number): string[] {
  const groups = color.statements.map((_, at) => talea.statements.slice(at * each, (at + 1) * each))
  const uniform = groups.every(group => group.every(one => sameSpeed(one, group[0]!)))
  if (!uniform) return faster(talea)
  const runs: { first: number; last: number; how: string }[] = []
  groups.forEach(([talea], at) => {
    const how = speedOf(talea!)
    const run = runs.at(-1)
    if (run?.how === how) run.last = at + 1
    else runs.push({ first: at + 1, last: at + 1, how })
  })
  return runs.flatMap(({ first, last, how }) => (how ? [`${numbered("color", first, last)} ${how}`] : []))
}

/** "the third color", "colores 3 and 4", "taleae 3 to 6". */
function numbered(what: Series["of"], first: number, last: number): string {
  if (first === last) return `the ${ordinal(first)} ${what}`
  return `${what === "color" ? "colores" : "taleae"} ${first} ${last === first + 1 ? "and" : "to"} ${last}`
}

/** Diminution talea by talea, runs of the same together. */
function faster(series: Series): string[] {
  if (series.of === "color") return []
  const runs: Statement[][] = []
  for (const one of series.statements) {
    const run = runs.at(-1)
    if (run && sameSpeed(one, run[0]!)) run.push(one)
    else runs.push([one])
  }
  return runs.flatMap(run => {
    const how = speedOf(run[0]!)
    if (!how) return []
    const [first, last] = [run[0]!.number, run.at(-1)!.number]
    return [`${numbered("talea", first, last)} ${how}`]
  })
}

function sameSpeed(a: Statement, b: Statement): boolean {
  const same = a.ratio && b.ratio ? equals(a.ratio, b.ratio) : a.ratio === b.ratio
  return a.names === b.names && same
}

/** "at half the durations, each level replaced by the next smaller"; nothing for a plain repeat. */
function speedOf({ ratio, names }: Statement): string {
  const far = ["", "next", "next but one", "third"][Math.abs(names)] ?? `${Math.abs(names)}th`
  const by = names === 0 ? "" : `each level replaced by the ${far} ${names > 0 ? "smaller" : "larger"}`
  const at = ratio === null || equals(ratio, ONE) ? "" : `at ${share(ratio)}`
  return [at, by].filter(Boolean).join(", ")
}

function share(ratio: Rational): string {
  const known: Record<string, string> = {
    "1/2": "half the durations",
    "1/3": "a third of the durations",
    "2/3": "two thirds of the durations",
    "1/4": "a quarter of the durations",
    "2": "twice the durations",
    "3": "three times the durations",
  }
  return known[toText(ratio)] ?? `${toText(ratio)} of the durations`
}

const WORDS = "no one two three four five six seven eight nine ten eleven twelve".split(" ")
const word = (count: number): string => WORDS[count] ?? String(count)
const ORDINALS = "zeroth first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth".split(" ")
const ordinal = (count: number): string => ORDINALS[count] ?? `${count}th`
