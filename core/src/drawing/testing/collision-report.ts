/** Generated pages drawn in every way: what stands in the way of what. */
import * as fc from "fast-check"
import { everySign, type Page } from "../../page/index.js"
import { randomPage } from "../../page/testing/random-page.js"
import { alignVoices } from "../../score/index.js"
import { readTogether } from "../../together/index.js"
import { lawfulPiece } from "../../together/testing/lawful-piece.js"
import { drawPage } from "../page/index.js"
import type { Scene } from "../scene/scene.js"
import { drawTime } from "../time/index.js"
import { bodiesIn, collisions } from "./collisions.js"
import { timeBodies, timeCollisions } from "./time-collisions.js"

export interface WayReport {
  readonly way: string
  readonly drawn: number
  /** Signs and texts that were compared. */
  readonly bodies: number
  /** "page 3: n4 × syllable “la”". */
  readonly met: readonly string[]
}

/** Everything that can stand on a page, in combinations no scribe would write. */
const strangePages = (count: number): Page[] =>
  fc.sample(randomPage({ signs: 14, voices: 3 }), { numRuns: count, seed: 11 })

const PRACTICES = ["ars-antiqua", "ars-nova", "white"] as const
/** Pieces as they are: each follows the rules of its practice, a third of its phrases can be read in two ways. */
const piece = (seed: number): Page =>
  lawfulPiece(seed, {
    practice: PRACTICES[seed % 3]!,
    voices: 2 + (seed % 4),
    notes: 16 + (seed % 5) * 6,
    doubtful: 0.3,
  }).page

/** Each sign after the other in every voice: for setting voices under one another without a reading. */
const placesOf = (page: Page) =>
  new Map(
    page.voices.flatMap(voice => [...everySign(voice.signs)].map((sign, at) => [sign.id, Math.floor(at / 2)] as const)),
  )

const timeOf = (page: Page, compact: boolean, width: number): Scene => {
  const { readings } = readTogether(page)
  return drawTime({ page, readings, score: alignVoices(page, readings) }, { compact, width })
}

export function* collisionReport(count: number): Generator<WayReport> {
  const strange = strangePages(count)
  const third = strange.slice(0, Math.ceil(count / 3))
  yield report("pages, voices apart", strange, page => drawPage(page), bodiesIn, collisions)
  yield report(
    "pages, spaced evenly, narrow",
    third,
    page => drawPage(page, { spacing: "even", width: 420 }),
    bodiesIn,
    collisions,
  )
  const under = (page: Page) => drawPage(page, { voices: "under", moments: placesOf(page) })
  yield report("pages, voices under one another", third, under, bodiesIn, collisions)
  const phone = (page: Page) => drawPage(page, { voices: "under", moments: placesOf(page), width: 390 })
  yield report("pages, voices under, 390 px wide", strange, phone, bodiesIn, collisions)
  const pieces = Array.from({ length: count }, (_, i) => piece(i + 1))
  yield report("time views", pieces, page => timeOf(page, false, 1920), timeBodies, timeCollisions)
  const some = pieces.slice(0, Math.ceil(count / 3))
  yield report("time views, compact", some, page => timeOf(page, true, 1280), timeBodies, timeCollisions)
  yield report("time views, 390 px wide", some, page => timeOf(page, false, 390), timeBodies, timeCollisions)
}

function report(
  way: string,
  pages: readonly Page[],
  draw: (page: Page) => Scene,
  bodiesOf: (scene: Scene) => readonly unknown[],
  collide: (scene: Scene) => string[],
): WayReport {
  let bodies = 0
  const met = pages.flatMap((page, i) => {
    const scene = draw(page)
    bodies += bodiesOf(scene).length
    return collide(scene).map(one => `page ${i}: ${one}`)
  })
  return { way, drawn: pages.length, bodies, met }
}
