/** Slips found and mended, in pieces where one can say what should be found. */
import { describe, expect, test } from "vitest"
import type { SignId } from "../../base/index.js"
import { parseShorthand, type Page, type Sign } from "../../page/index.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { randomFrom } from "../../reading/testing/random.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { emend } from "./emend.js"
import { propose, proposing } from "./propose.js"
import { readTogether } from "../read-together.js"
import { aroundFigure, figuresOf } from "./figures.js"
import { changed } from "./changed-page.js"
import { judge, isNear, mends, plantOne, restores, soundOf, type Planted } from "./testing/judge.js"
import type { Emendation, EmendationKind, Progress, Proposal } from "./types.js"

const demo = (name: string): Page => demoPiece(DEMOS.find(one => one.startsWith(name))!).page
const found = (page: Page): Proposal => propose(page)!

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

/** Imperfect time, all but note against note: nothing can be taken up by other rules. */
const DUET = (cantus: string) => `title: Ours
voice cantus white practice=white
clef:C1 C
${cantus}
voice tenor white practice=white
clef:C4 C
B c4 S d e f e B d S e c g g f e B d S c b3 c4 e f d e f B e S d c B d L c
`
/** Changes tried at most where all of them would only take longer. */
const FEW = 300
const SOUND = "B g4 S b c5 c c B b4 S c5 g d c c c B b4 S g g a c5 c b4 c5 c B c S b4 a B b L c5"

const spoiled = page(DUET(SOUND.replace("c5 c c B b4 S c5", "c5 c M c B b4 S c5")))
const asItWas = JSON.stringify(spoiled)
const proposal = found(spoiled)

describe("a sound piece", () => {
  test("gives no emendation and no parting", () => {
    const nothing = { together: true, firstParting: null, emendations: [] }
    expect(found(page(DUET(SOUND)))).toEqual(nothing)
    for (const name of ["4", "6"]) expect(found(demo(name))).toEqual(nothing)
  })

  test("so does one voice alone, or none, or one without notes", () => {
    const alone = page("voice tenor black\nB a3 S g f B e")
    expect(found(alone).emendations).toEqual([])
    expect(found({ ...alone, voices: [] }).emendations).toEqual([])
    expect(found(page("voice cantus black\nclef:C1\nvoice tenor black\nB a3")).emendations).toEqual([])
  })
})

describe("a slip in imperfect time, where no other rule can take it up", () => {
  test("the voices do not meet, and part near it", () => {
    expect(proposal.together).toBe(false)
    expect(proposal.firstParting!.certainty).toBeGreaterThan(0)
  })

  test("the lost length is given back, and the voices meet", () => {
    const [best] = proposal.emendations as [Emendation]
    expect(best).toMatchObject({ rank: 1, kind: "stem-dropped", voice: "1", place: "cantus 5", step: 1, meets: true })
    expect(best).toMatchObject({ before: "minima c5", after: "semibrevis c5" })
    expect(best.why).toContain("meet at their finals again")
    const made = emend(spoiled, best)
    expect(made.ok && readTogether(made.value.page).meeting).toHaveLength(2)
  })

  test("scores are chances, the best first; of no two places that follow each other the later is likelier", () => {
    const scores = proposal.emendations.map(one => one.score)
    expect(scores.every(score => score >= 0 && score <= 1)).toBe(true)
    expect(scores[0]).toBe(Math.max(...scores))
    const places = proposal.emendations.map(one => [one.voice, Number(one.place.split(" ")[1]), one.score] as const)
    const heads = places.filter(
      ([voice, place], i) => !places.slice(0, i).some(([other, at]) => other === voice && Math.abs(at - place) <= 2),
    )
    const own = heads.map(([, , score]) => score)
    expect([...own].sort((a, b) => b - a)).toEqual(own)
    expect(proposal.emendations.map(one => one.rank)).toEqual(scores.map((_, i) => i + 1))
  })

  test("nothing is changed by looking", () => {
    expect(JSON.stringify(spoiled)).toBe(asItWas)
  })
})

test("two slips in different voices are both found, the second when the first is mended in thought", () => {
  const sound = soundOf(demo("6"))
  const first = plantOne(sound, "stem-added", randomFrom(2))!
  const second = plantOne({ page: first.page, together: first.together }, "note-doubled", randomFrom(4))!
  expect(second.voice).not.toBe(first.voice)
  const { emendations } = propose(second.page, { most: FEW })!
  for (const slip of [first, second])
    expect(emendations.some(one => isNear({ ...slip, page: second.page }, one))).toBe(true)
  const last = emendations.at(-1)!
  expect(last.step).toBe(2)
  expect(emendations.find(one => one.step === 2)!.meets).toBe(true)
})

/** Pieces of their own seeds, not those the weights were looked at with. */
test.each<[EmendationKind, string]>([
  ["note-missing", "white"],
  ["rest-changed", "ars-nova"],
  ["passage-doubled", "white"],
])(
  "%s in invented pieces (%s): the place is among the first three",
  (kind, practice) => {
    let [tried, near] = [0, 0]
    for (let seed = 7000; tried < 1 && seed < 7030; seed++) {
      const sound = soundOf(lawfulPiece(seed, { practice: practice as "white", voices: 3, notes: 30 }).page)
      const slip = plantOne(sound, kind, randomFrom(seed))
      if (sound.together.meeting.length < 3 || !slip?.felt) continue
      tried++
      if (judge(sound, slip, propose(slip.page, { most: FEW })!).near) near++
    }
    expect(tried).toBe(1)
    expect(near).toBe(1)
  },
  60_000,
)

test("the work can be watched and stopped", () => {
  const seen: Progress[] = []
  const stopped = propose(spoiled, { onProgress: one => seen.push(one) < 2 })
  expect(stopped).toBeUndefined()
  expect(seen).toHaveLength(2)
  expect(seen[1]!.done).toBeGreaterThan(seen[0]!.done)
  const steps = proposing(spoiled)
  let next = steps.next()
  while (!next.done) next = steps.next()
  expect(next.value).toEqual(proposal)
})

test("the order of the voices does not matter", () => {
  const turned = { ...spoiled, voices: spoiled.voices.toReversed() }
  const best = ({ emendations: [one] }: Proposal) => [one!.kind, one!.place, one!.gain]
  expect(best(found(turned))).toEqual(best(proposal))
})

test("a slip is near its place and no other", () => {
  const sound = soundOf(demo("6"))
  const slip = plantOne(sound, "level-changed", randomFrom(5))!
  const voice = slip.page.voices.find(one => one.id === slip.voice)!
  const figures = voice.signs.filter(sign => sign.kind === "note" || sign.kind === "rest")
  const at = (sign: { id: (typeof figures)[number]["id"] }) =>
    ({ sign: sign.id, edit: { voice: slip.voice, out: [], in: [] } }) as unknown as Emendation
  const hits = figures.filter(sign => isNear(slip, at(sign))).length
  expect(hits).toBeGreaterThan(0)
  expect(hits).toBeLessThanOrEqual(7)
})

/** The d of the upper voice, its ninth note. */
const LOST = 8

test("a longer note beside a lost one gives all else back, the lost note does too, one further away does not", () => {
  const sound = soundOf(page(DUET(SOUND)))
  const voice = sound.page.voices[0]!
  const figures = figuresOf(voice)
  const lost = figures[LOST]!
  const edit = aroundFigure(voice, lost, 1, [])
  const spoiled = changed(sound.page, voice.id, edit)!
  const slip = {
    kind: "note-missing",
    page: spoiled,
    voice: voice.id,
    edit,
    from: LOST,
    to: LOST,
    felt: true,
    together: readTogether(spoiled),
  } as Planted
  const repair = (at: SignId, signs: readonly Sign[], gone = 1): Emendation => {
    const own = figuresOf(spoiled.voices[0]!).find(one => one.sign.id === at)!
    return { edit: aroundFigure(spoiled.voices[0]!, own, gone, signs), sign: at, meets: true } as unknown as Emendation
  }
  const longer = (at: number): Emendation => {
    const { sign } = figures[at]!
    return repair(sign.id, [{ ...sign, level: "brevis" } as Sign])
  }
  const judged = (one: Emendation) => [mends(sound, slip, one), restores(sound, slip, one)]
  expect(judged(longer(LOST - 1))).toEqual([false, true])
  expect(judged(longer(LOST + 6))).toEqual([false, false])
  expect(judged({ ...longer(LOST - 1), meets: false })).toEqual([false, false])
  expect(judged(repair(figures[LOST + 1]!.sign.id, [lost.sign, figures[LOST + 1]!.sign]))).toEqual([true, true])
})

test("a slip for which a passage in another modus would make up is looked for nevertheless", () => {
  const { page } = lawfulPiece(451007, { practice: "ars-nova-early", voices: 4, notes: 50 })
  const slip = plantOne(soundOf(page), "level-changed", randomFrom(2035079255))!
  const { readings } = readTogether(slip.page)
  expect(readings.flatMap(one => one.problems.map(({ code }) => code))).toContain("modus-left")
  const { together, firstParting, emendations } = propose(slip.page, { steps: 1 })!
  expect([together, firstParting === null]).toEqual([false, false])
  expect(emendations.slice(0, 3).some(one => isNear(slip, one))).toBe(true)
})
