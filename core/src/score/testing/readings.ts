/** For tests: pages and readings made from lists of durations, without a practice to read them. */
import { fromText, ONE, plus, ratio, signId, voiceId, ZERO, type Rational } from "../../base/index.js"
import type { Note, Page, Rest, Sign, Syllable, Voice } from "../../page/index.js"
import type { MensurationSpan, Reading, SignReading, Unit } from "../../reading/types.js"

export interface TestSign {
  readonly duration: Rational
  /** "bf3"; null for a rest. */
  readonly pitch: string | null
  readonly note?: Partial<Note>
  readonly plica?: SignReading["plica"]
  /** Begins (or goes on with) a ligature with the sign that follows. */
  readonly bound?: boolean
}
export interface TestVoice {
  readonly label: string
  readonly signs: readonly TestSign[]
  readonly unit?: Unit
  readonly practice?: string
  readonly mensurations?: readonly (Partial<MensurationSpan> & { readonly onset: Rational })[]
  readonly flats?: boolean
}

/** "d4:2 r:1 f4:2/3" → signs; "~" after the duration binds it to the next in a ligature, "*" colours it, "|text" is its syllable. */
export function signsFrom(text: string): TestSign[] {
  return text
    .trim()
    .split(/\s+/)
    .map(token => {
      const [, pitch, duration, marks = "", syllable] = /^([^:]+):([\d/]+)([~*]*)(?:\|(.*))?$/.exec(token) ?? []
      const length = fromText(duration ?? "")
      if (!pitch || !length) throw new Error(`"${token}" is no pitch:duration`)
      const note: { coloration: Note["coloration"]; syllables: Syllable[] } = {
        coloration: marks.includes("*") ? "red" : "none",
        syllables:
          syllable === undefined ? [] : [{ stanza: 1, text: syllable.replace(/[-_]$/, ""), join: joinOf(syllable) }],
      }
      return { duration: length, pitch: pitch === "r" ? null : pitch, note, bound: marks.includes("~") }
    })
}

function joinOf(syllable: string): Syllable["join"] {
  return syllable.endsWith("-") ? "-" : syllable.endsWith("_") ? "_" : " "
}

export function testPiece(
  voices: readonly TestVoice[],
  title = "A piece made for a test",
): { page: Page; readings: Reading[] } {
  const made = voices.map(makeVoice)
  const page: Page = {
    title,
    voices: made.map(({ voice }) => voice),
    shapes: [],
    surfaces: [],
    zones: [],
    alternatives: [],
  }
  return { page, readings: made.map(({ reading }) => reading) }
}

function makeVoice(given: TestVoice, index: number): { voice: Voice; reading: Reading } {
  const id = voiceId(`v${index + 1}`)
  const ids = given.signs.map((_, i) => signId(`${index + 1}.${i + 1}`))
  const signs = given.signs.map((sign, i) => pageSign(sign, ids[i]!))
  const key: Sign[] = given.flats
    ? [
        {
          kind: "signature",
          id: signId(`${index + 1}.key`),
          accidentals: [{ step: "b", accidental: "f" }],
          initial: true,
        },
      ]
    : []
  const base = { n: String(index + 1), label: given.label }
  return {
    voice: { id, ...base, lines: 5, notation: "black", signs: [...key, ...bind(given.signs, signs, index)] },
    reading: { voice: id, ...base, ...readingOf(given, ids) },
  }
}

function pageSign(sign: TestSign, id: Note["id"]): Note | Rest {
  if (sign.pitch === null) return { kind: "rest", id, coloration: "none" }
  return { kind: "note", id, coloration: "none", stems: [], syllables: [], ...sign.note }
}

function bind(given: readonly TestSign[], signs: readonly (Note | Rest)[], voice: number): Sign[] {
  const bound: Sign[] = []
  for (let i = 0; i < signs.length; i++) {
    let end = i
    while (given[end]?.bound) end++
    if (end === i) bound.push(signs[i]!)
    else bound.push({ kind: "ligature", id: signId(`${voice + 1}.lig${i}`), members: signs.slice(i, end + 1) })
    i = end
  }
  return bound
}

function readingOf(given: TestVoice, ids: readonly Note["id"][]): Omit<Reading, "voice" | "n" | "label"> {
  let onset = ZERO
  const last = given.signs.length - 1
  const signs = given.signs.map((sign, i): SignReading => {
    const reading: SignReading = {
      id: ids[i]!,
      index: i,
      kind: sign.pitch === null ? "rest" : "note",
      number: i + 1,
      level: null,
      pitch: sign.pitch,
      onset,
      duration: sign.duration,
      quality: null,
      rule: "as-written",
      also: [],
      because: [],
      decidedBy: "voice",
      doubt: 0,
      rivals: [],
      ...(sign.plica ? { plica: sign.plica } : {}),
      ...(i === last ? { held: true } : {}),
    }
    onset = plus(onset, sign.duration)
    return reading
  })
  const unit = given.unit ?? "minima"
  return {
    unit,
    duration: onset,
    signs,
    rivals: [],
    problems: [],
    practice: {
      name: given.practice ?? (unit === "tempus" ? "ars-antiqua" : "ars-nova"),
      options: {},
      from: "given",
      doubt: 0,
    },
    mensurations: (given.mensurations ?? [{ onset: ZERO }]).map(span => ({
      modusMaior: null,
      modusMinor: unit === "tempus" ? 3 : 2,
      tempus: unit === "tempus" ? null : 2,
      prolatio: unit === "tempus" ? null : 2,
      from: "given",
      doubt: 0,
      proportion: ONE,
      ...span,
    })),
  }
}

/** Numbers from 0 to below 1 that a seed repeats. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}

const DURATIONS: Readonly<Record<string, readonly string[]>> = {
  "ars-antiqua": ["3", "2", "1", "1", "1", "6", "2/3", "1/3", "1/3", "1/2", "1/4", "1/5", "1/6", "1/7", "1/9", "3/2"],
  "ars-nova": ["1", "1", "1", "2", "2", "3", "4", "6", "5", "9", "3/2", "1/2", "4/3", "2/3", "8", "7/2"],
  white: ["4", "2", "2", "1", "1", "1/2", "1/4", "3", "3/2", "8", "2/3", "4/3", "8/3", "1/3", "12/5", "1/8"],
}

/** One to four voices in the practice that the seed picks, with durations usual in it, sign changes and proportions. */
export function randomPiece(seed: number): { page: Page; readings: Reading[] } {
  const random = seeded(seed)
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!
  const practice = pick(Object.keys(DURATIONS))
  const voices = Array.from({ length: 1 + Math.floor(random() * 4) }, (_, i): TestVoice => {
    const signs = Array.from({ length: 3 + Math.floor(random() * 30) }, (): TestSign => {
      const length = fromText(pick(DURATIONS[practice]!))!
      const pitch = random() < 0.15 ? null : `${pick(["a", "c", "d", "e", "f", "g", "bf", "b"])}${pick([3, 4])}`
      const coloration = random() < 0.2 ? "red" : "none"
      return { duration: length, pitch, note: { coloration }, bound: pitch !== null && random() < 0.1 }
    })
    const total = signs.reduce((sum, { duration }) => sum + duration.num / duration.den, 0)
    const spans = [{ onset: ZERO, ...randomMensuration(practice, pick, random) }]
    if (random() < 0.4)
      spans.push({ onset: ratio(Math.floor(total / 2)), ...randomMensuration(practice, pick, random) })
    return {
      label: `voice ${i + 1}`,
      practice,
      unit: practice === "ars-antiqua" ? "tempus" : "minima",
      mensurations: spans,
      signs: signs.map((sign, at) => (signs[at + 1]?.pitch ? sign : { ...sign, bound: false })),
    }
  })
  return testPiece(voices, `Random piece ${seed}`)
}

function randomMensuration(practice: string, pick: <T>(from: readonly T[]) => T, random: () => number) {
  if (practice === "ars-antiqua") return { modusMinor: pick([2, 3, 3, 3] as const), proportion: ONE }
  const proportion = random() < 0.8 ? ONE : pick([ratio(2), ratio(3, 2), ratio(3), ratio(4, 3)])
  return { tempus: pick([2, 3] as const), prolatio: pick([2, 3] as const), proportion }
}
