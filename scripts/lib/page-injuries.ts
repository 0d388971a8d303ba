/** Ways of spoiling a page that has been read, for scripts/fuzz.mjs: what no text that is spoilt letter by letter would become. */
import { ratio, signId } from "../../core/src/base/index.js"
import type { MensurationSign, Note, Page, Rest, Sign, Voice } from "../../core/src/page/index.js"

type Random = () => number
const upTo = (random: Random, most: number): number => Math.floor(random() * most)
const oneOf = <T>(random: Random, all: readonly T[]): T => all[upTo(random, all.length)]!

/** One to five injuries. Ids stay unique. */
export function spoiltPage(page: Page, random: Random): Page {
  let spoilt = page
  for (let left = 1 + upTo(random, 5); left > 0 && spoilt.voices.length > 0; left--) {
    const at = upTo(random, spoilt.voices.length)
    const voices = spoilt.voices.flatMap((voice, i) => (i === at ? oneOf(random, OF_VOICES)(voice, random) : [voice]))
    spoilt = { ...spoilt, voices: voices.length > 0 ? oneOf(random, OF_PAGES)(voices, random) : voices }
  }
  return withNewIds(spoilt)
}

const OF_PAGES: readonly ((voices: readonly Voice[], random: Random) => readonly Voice[])[] = [
  voices => voices,
  voices => voices,
  voices => voices,
  // voices in another order; one as a second voice of its own
  voices => voices.toReversed(),
  (voices, random) => (voices.length < 5 ? [...voices, oneOf(random, voices)] : voices),
]

const OF_VOICES: readonly ((voice: Voice, random: Random) => readonly Voice[])[] = [
  (voice, random) => [{ ...voice, signs: withoutSome(voice.signs, random) }],
  (voice, random) => [{ ...voice, signs: twice(voice.signs, random) }],
  (voice, random) => [{ ...voice, signs: shuffled(voice.signs, random) }],
  (voice, random) => [{ ...voice, signs: voice.signs.map(sign => (random() < 0.1 ? misdrawn(sign, random) : sign)) }],
  (voice, random) => [{ ...voice, signs: withStrange(voice.signs, random) }],
  // nothing, rests alone, one sign, no lines
  voice => [{ ...voice, signs: [] }],
  voice => [{ ...voice, signs: voice.signs.filter(sign => sign.kind === "rest") }],
  (voice, random) => [{ ...voice, signs: voice.signs.slice(0, upTo(random, 3)) }],
  (voice, random) => [{ ...voice, lines: oneOf(random, [0, 1, 40]) }],
  ({ practice: _, ...voice }) => [voice],
  // no sign of its mensuration
  voice => [{ ...voice, signs: voice.signs.filter(sign => sign.kind !== "mensuration" && sign.kind !== "clef") }],
  () => [],
]

function withoutSome(signs: readonly Sign[], random: Random): Sign[] {
  const share = oneOf(random, [0.05, 0.3, 0.9])
  return signs.filter(() => random() >= share)
}

function twice(signs: readonly Sign[], random: Random): Sign[] {
  const from = upTo(random, signs.length)
  const piece = signs.slice(from, from + 1 + upTo(random, 12))
  return signs.length > 150 ? [...signs] : signs.toSpliced(upTo(random, signs.length), 0, ...piece)
}

function shuffled(signs: readonly Sign[], random: Random): Sign[] {
  return signs
    .map(sign => ({ sign, at: random() }))
    .sort((a, b) => a.at - b.at)
    .map(one => one.sign)
}

const NUMBERS = [0, 1, 2, 3, 9, 97, 999_999]

function misdrawn(sign: Sign, random: Random): Sign {
  if (sign.kind === "note") return misdrawnNote(sign, random)
  if (sign.kind === "rest") return misdrawnRest(sign, random)
  if (sign.kind === "mensuration") return misdrawnMensuration(sign, random)
  if (sign.kind === "proportion") return { ...sign, num: oneOf(random, NUMBERS.slice(1)) }
  return sign
}

function misdrawnNote(note: Note, random: Random): Note {
  const { level: _, ...lost } = note
  const { pitch: __, ...unpitched } = note
  const octave = oneOf(random, [-3, 0, 9, 40])
  return oneOf<Note>(random, [
    lost,
    unpitched,
    { ...note, level: oneOf(random, ["maxima", "semifusa"] as const) },
    { ...note, coloration: oneOf(random, ["red", "void", "black", "half-left"] as const) },
    note.pitch ? { ...note, pitch: { ...note.pitch, octave } } : note,
    { ...note, given: { num: oneOf(random, [1, 2, 3, 97]), numbase: oneOf(random, [1, 2, 3, 97]) } },
  ])
}

function misdrawnRest(rest: Rest, random: Random): Rest {
  const { level: _, ...lost } = rest
  return oneOf<Rest>(random, [
    lost,
    { ...rest, spaces: ratio(oneOf(random, NUMBERS.slice(1)), oneOf(random, [1, 1, 7])) },
    { ...rest, level: oneOf(random, ["maxima", "semifusa"] as const) },
  ])
}

function misdrawnMensuration(sign: MensurationSign, random: Random): MensurationSign {
  return oneOf<MensurationSign>(random, [
    { ...sign, tempus: 3, prolatio: 2, modusMinor: 3 },
    { ...sign, strokes: oneOf(random, NUMBERS) },
    { ...sign, figures: [oneOf(random, NUMBERS.slice(1)), oneOf(random, NUMBERS.slice(1))] },
  ])
}

function withStrange(signs: readonly Sign[], random: Random): Sign[] {
  const id = signId("strange")
  const strange = oneOf<Sign>(random, [
    { kind: "other", id, name: "gap" },
    { kind: "mark", id, of: "signum-congruentiae" },
    { kind: "mark", id, of: "repeat-start" },
    { kind: "dot", id },
    { kind: "stroke", id, form: "finis-punctorum" },
    { kind: "rest", id, spaces: ratio(100_000), coloration: "none" },
    { kind: "proportion", id, num: 1, numbase: 999_983 },
  ])
  return signs.toSpliced(upTo(random, signs.length + 1), 0, strange)
}

/** What stands twice gets another id the second time; decisions on what is gone stay, as in a file that was edited by others. */
function withNewIds(page: Page): Page {
  const seen = new Set<string>()
  const fresh = (sign: Sign): Sign => {
    const own = sign.kind === "ligature" ? { ...sign, members: sign.members.map(one => fresh(one) as never) } : sign
    let { id } = own
    for (let n = 2; seen.has(id); n++) id = signId(`${own.id}-${n}`)
    seen.add(id)
    return { ...own, id }
  }
  const voices = page.voices.map((voice, i) => ({
    ...voice,
    id: page.voices.findIndex(one => one.id === voice.id) === i ? voice.id : (`${voice.id}-${i}` as typeof voice.id),
    n: String(i + 1),
    signs: voice.signs.map(fresh),
  }))
  return { ...page, voices }
}
