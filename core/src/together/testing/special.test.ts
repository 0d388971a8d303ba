/** Each special piece holds what its name says, and its voices meet by the true durations. */
import { describe, expect, test } from "vitest"
import { compare, equals, plus, ratio, sum, times, toText, ZERO, type Rational } from "../../base/index.js"
import { flatSigns, type Voice } from "../../page/index.js"
import { readPage } from "../../reading/index.js"
import { doMeet, trueLengths } from "./compare.js"
import { LAWFUL_PRACTICES, type LawfulPiece } from "./lawful-piece.js"
import {
  differentMensurations,
  innerMeetings,
  lateVoice,
  longGap,
  lostVoice,
  otherValues,
  signChange,
} from "./special.js"

const SEEDS = [1, 2, 3, 4, 5]
const PIECES: Record<string, (seed: number) => LawfulPiece> = {
  differentMensurations,
  signChange,
  stroke: seed => otherValues(seed, "stroke"),
  diminution: seed => otherValues(seed, "decrescit in duplo"),
  augmentation: seed => otherValues(seed, "crescit in duplo"),
  lateVoice,
  longGap,
  lostVoice: seed => lostVoice(seed).left,
  finis: seed => innerMeetings(seed, "finis-punctorum"),
  congruentia: seed => innerMeetings(seed, "signum-congruentiae"),
  generalRest: seed => innerMeetings(seed, "general-rest"),
}

test.each(Object.keys(PIECES))(
  "%s: the voices reach their finals together, the same seed gives the same piece",
  name => {
    for (const seed of SEEDS) {
      const piece = PIECES[name]!(seed)
      expect(new Set(trueLengths(piece).map(toText)).size, `seed ${seed}`).toBe(1)
      expect(PIECES[name]!(seed)).toEqual(piece)
    }
  },
)

/** Share of notes that voices read alone get as they are meant, by voice; all pieces of the name. */
function rightAlone(name: string, label?: string): number {
  let [right, all] = [0, 0]
  for (const piece of SEEDS.map(seed => PIECES[name]!(seed)))
    for (const reading of readPage(piece.page).filter(one => label === undefined || one.label === label))
      for (const sign of reading.signs) {
        const wanted = piece.durations.get(sign.id)
        if (wanted === undefined || piece.finals.has(sign.id)) continue
        all++
        if (equals(wanted, sign.duration)) right++
      }
  return right / all
}

test.each(Object.keys(PIECES).filter(name => !["diminution", "augmentation"].includes(name)))(
  "%s: the signs say nearly all of it",
  name => expect(rightAlone(name)).toBeGreaterThan(0.97),
)

test.each([
  ["decrescit in duplo", ratio(2)],
  ["crescit in duplo", ratio(1, 2)],
] as const)("%s: without the inscription the tenor reads in other values than it is sung in", (how, by) => {
  for (const seed of SEEDS) {
    const { page, durations, finals } = otherValues(seed, how)
    const tenor = page.voices.find(voice => voice.label === "tenor")!
    expect(signsOf(tenor, "mark")).toMatchObject([{ of: "canon", text: how }])
    const plain = { ...tenor, signs: tenor.signs.filter(sign => sign.kind !== "mark") }
    const [reading] = readPage({ ...page, voices: [plain] })
    const sung = reading!.signs.filter(sign => sign.number > 0 && !finals.has(sign.id))
    expect(sung.map(sign => toText(sign.duration))).toEqual(
      sung.map(sign => toText(times(durations.get(sign.id)!, by))),
    )
    expect(doMeet(readPage({ ...page, voices: page.voices.map(voice => (voice === tenor ? plain : voice)) }))).toBe(
      false,
    )
  }
})

describe("voices of their own", () => {
  test("one voice has a second sign, the others have not", () => {
    const counts = signChange(1).page.voices.map(voice => signsOf(voice, "mensuration").length)
    expect(counts.toSorted((a, b) => a - b)).toEqual([1, 1, 2])
  })
  test("or all have, and all turn at one time, where a perfection begins", () => {
    for (const divisions of [
      undefined,
      [
        [2, 2, 2, 2],
        [2, 2, 3, 2],
      ] as const,
    ] as const) {
      const { page } = signChange(2, "ars-nova", { who: "all", ...(divisions && { divisions }) })
      const readings = readPage(page)
      const onsets = readings.map(one => one.mensurations.map(({ onset }) => toText(onset)))
      expect(onsets.map(own => own.length)).toEqual([2, 2, 2])
      expect(new Set(onsets.map(own => own[1])).size).toBe(1)
      expect(readings.every(({ mensurations: [, later] }) => later!.from === "given")).toBe(true)
    }
  })
  test.each(LAWFUL_PRACTICES)("late and silent voices of %s rest for a third and more", practice => {
    for (const seed of SEEDS) {
      const [late, gap] = [lateVoice(seed, practice), longGap(seed, practice)]
      expect(longestRest(late)).toBeGreaterThan(0.3)
      expect(longestRest(gap)).toBeGreaterThan(0.5)
      expect(lateVoices(late)).toBe(1)
      expect(lateVoices(gap)).toBe(0)
    }
  })
  test("of the lost voice nothing is left", () => {
    for (const seed of SEEDS) {
      const { whole, left, lost } = lostVoice(seed)
      expect(left.page.voices).toEqual(whole.page.voices.filter(voice => voice.id !== lost.id))
      expect(left.finals.size).toBe(2)
      const notes = (voice: Voice): number => signsOf(voice, "note").length + signsOf(voice, "rest").length
      expect(left.durations.size + notes(lost)).toBe(whole.durations.size)
    }
  })
})

describe("inner meetings", () => {
  test.each(LAWFUL_PRACTICES)("of %s: a note or rest begins there in every voice, twice", practice => {
    for (const how of ["finis-punctorum", "signum-congruentiae", "general-rest"] as const)
      for (const seed of SEEDS) {
        const piece = innerMeetings(seed, how, practice)
        expect(piece.meetings.length).toBe(2)
        for (const voice of piece.page.voices) {
          const found = meetingsIn(voice, piece, how)
          expect(found.map(toText), `${how} ${seed} ${voice.label}`).toEqual(piece.meetings.map(toText))
        }
      }
  })
})

/** True onsets of what follows each sign; of a general rest, the onsets asked for at which this voice begins a rest. */
function meetingsIn(voice: Voice, piece: ReturnType<typeof innerMeetings>, how: string): Rational[] {
  const found: Rational[] = []
  let time = ZERO
  for (const { sign } of flatSigns(voice)) {
    if ((sign.kind === "stroke" && sign.form === how) || (sign.kind === "mark" && sign.of === how)) found.push(time)
    const isRest = how === "general-rest" && sign.kind === "rest" && sign.level === "longa"
    if (isRest && piece.meetings.some(meeting => equals(meeting, time))) found.push(time)
    time = plus(time, piece.durations.get(sign.id) ?? ZERO)
  }
  return found
}

function signsOf<Kind extends string>(voice: Voice, kind: Kind): readonly { readonly kind: string }[] {
  return flatSigns(voice).flatMap(({ sign }) => (sign.kind === kind ? [sign] : []))
}

/** Rests on end, as a share of the whole. */
function longestRest({ page, durations }: LawfulPiece): number {
  let most = ZERO
  let whole = ZERO
  for (const voice of page.voices) {
    let resting = ZERO
    whole = ZERO
    for (const { sign } of flatSigns(voice)) {
      const duration = durations.get(sign.id) ?? ZERO
      whole = plus(whole, duration)
      if (sign.kind === "rest") resting = plus(resting, duration)
      else if (sign.kind === "note") resting = ZERO
      if (compare(resting, most) > 0) most = resting
    }
  }
  return most.num / most.den / (whole.num / whole.den)
}

/** Voices that begin with a rest of at least a tenth of the whole. */
function lateVoices({ page, durations }: LawfulPiece): number {
  const whole = sum([...durations].flatMap(([id, one]) => (id.startsWith("tenor.") ? [one] : [])))
  return page.voices.filter(voice => {
    let resting = ZERO
    for (const { sign } of flatSigns(voice)) {
      if (sign.kind === "note") break
      if (sign.kind === "rest") resting = plus(resting, durations.get(sign.id)!)
    }
    return compare(plus(resting, resting), ratio(whole.num, 5 * whole.den)) > 0
  }).length
}
