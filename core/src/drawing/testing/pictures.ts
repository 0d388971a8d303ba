/** Drawings that are kept as pictures: what they show is looked at by a person whenever they change. */
import { readFileSync } from "node:fs"
import { ratio, type SignId } from "../../base/index.js"
import { findSign, parseShorthand, type Page } from "../../page/index.js"
import { readVoice } from "../../reading/index.js"
import { alignVoices } from "../../score/index.js"
import { readTogether } from "../../together/index.js"
import { drawPage } from "../page/index.js"
import type { Scene } from "../scene/scene.js"
import { signSheet } from "../sheet/sheet.js"
import { drawTimeSheets, drawTime, layTime, soundingOver, type TimeInput } from "../time/index.js"

export interface KeptPicture {
  readonly name: string
  readonly theme: string
  /** Px in the width of the picture. */
  readonly width: number
  readonly scene: (source: SourceOf) => Scene
}
/** Text of a file of the project, by its path from the root. */
export type SourceOf = (path: string) => string

/** Relative to this file, for tests. */
export const fromRoot: SourceOf = path => readFileSync(new URL(`../../../../${path}`, import.meta.url), "utf8")

function pageOf(text: string): Page {
  const read = parseShorthand(text, "kept.figurae")
  if (!read.ok || read.problems.length > 0) throw new Error(read.problems.map(one => one.what).join(" "))
  return read.value
}
const demo = (name: string, source: SourceOf): Page => pageOf(source(`demo/${name}.figurae`))

function inputOf(page: Page): TimeInput {
  const { readings } = readTogether(page)
  return { page, readings, score: alignVoices(page, readings) }
}

/** Each voice read by itself: what is left open depends on its own rules alone. */
function aloneOf(page: Page): TimeInput {
  const readings = page.voices.map(voice => readVoice(voice))
  return { page, readings, score: alignVoices(page, readings) }
}

function momentsOf(page: Page): ReadonlyMap<SignId, number> {
  const { score } = inputOf(page)
  return new Map(
    score.voices.flatMap(voice =>
      voice.events.flatMap(({ id, onset }) => (id === null ? [] : [[id, onset.num / onset.den] as const])),
    ),
  )
}

const EVERYTHING = "core/src/drawing/testing/old-page.figurae"

/** Two voices that part, one of them with a doubt. */
const PARTING = `title: Where voices part (invented)
voice triplum black practice=ars-nova
clef:C1 O
B a4 S b c5 B d S c5 b4 a B g S a B b L a
voice motetus black practice=ars-nova
clef:C3 O
B c4 c c S d c B c c L c
voice tenor black practice=ars-nova
clef:C4 O
B c4 c S c d e M c B c c c L c
`

export const PICTURES: readonly KeptPicture[] = [
  { name: "signs", theme: "light", width: 790, scene: () => signSheet() },
  {
    name: "everything",
    theme: "light",
    width: 1000,
    scene: source => drawPage(pageOf(source(EVERYTHING)), { width: 1000 }),
  },
  {
    name: "everything-even-dark",
    theme: "dark",
    width: 700,
    scene: source =>
      drawPage(pageOf(source(EVERYTHING)), { width: 900, spacing: "even", lines: "fit", staff: "black" }),
  },
  {
    name: "page-under",
    theme: "light",
    width: 900,
    scene: source => {
      const page = demo("5-changing-signs", source)
      return drawPage(page, { width: 900, voices: "under", moments: momentsOf(page) })
    },
  },
  {
    name: "page-phone",
    theme: "light",
    width: 390,
    scene: source => drawPage(demo("1-ordo-tenor", source), { width: 390 }),
  },
  {
    name: "time",
    theme: "light",
    width: 960,
    scene: source => {
      const page = demo("5-changing-signs", source)
      return drawTime(inputOf(page), { to: ratio(48), select: findSign(page, "contratenor 5")!.id })
    },
  },
  {
    name: "time-doubt-dark",
    theme: "dark",
    width: 960,
    scene: () => drawTime(aloneOf(pageOf(PARTING))),
  },
  {
    name: "time-eight",
    theme: "lecture-white",
    width: 960,
    scene: source => {
      const page = pageOf(source("core/src/drawing/testing/eight-voices.figurae"))
      return drawTimeSheets(inputOf(page), { compact: true, sheetHeight: 1080 })[0]!
    },
  },
  {
    name: "time-sounding-phone",
    theme: "lecture-black",
    width: 390,
    scene: source => {
      const laid = layTime(inputOf(demo("6-proportion-coloration", source)), { width: 390, to: ratio(18) })
      return { ...laid.scene, content: [...laid.scene.content, ...soundingOver(laid, 5)] }
    },
  },
]
