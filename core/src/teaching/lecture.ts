/**
 * The time view for a hall: cut into sheets as large as the wall, and each sheet into the five steps of a step series, so that what
 * was written stands first and what is worked out comes to it step by step. Nothing moves between the steps.
 */
import type { SignId } from "../base/index.js"
import { layTimeSheets, type Item, type LaidSystem, type LaidTimeSheet } from "../drawing/index.js"
import type { Page } from "../page/index.js"
import type { Reading } from "../reading/index.js"
import { passageRead } from "./figures/passage.js"
import { stepsOf, STEPS, type Step, type Steps } from "./figures/step-series.js"

/** What the steps are called, in their order: signs, perfections, imperfections, alterations, result. */
export const LECTURE_STEPS = STEPS
export type LectureStep = Step

/** Of the wall, in px. */
export interface LectureRoom {
  readonly width: number
  readonly height: number
  /** 1: as much as fits is shown, as large as it can be; more: larger, and so less on a sheet. */
  readonly zoom?: number
}

export interface LectureSheet {
  readonly width: number
  readonly height: number
  /** In px: a staff space. */
  readonly unit: number
  /** Those that sound on it. */
  readonly signs: ReadonlySet<SignId>
  /** Of its systems, from top to bottom. */
  readonly axes: readonly LectureAxis[]
  /** The steps in which something appears on it; the first is always among them. */
  readonly steps: readonly LectureStep[]
  /** What a step adds. Grounds and pillars (step 2) lie under what all others show. */
  adds(step: LectureStep): Item[]
}

/** Where the axis of a system lies on a sheet: a moment stands at `left + (moment - from) * scale`. */
export interface LectureAxis {
  /** Moments at its ends, in the score's unit. */
  readonly from: number
  readonly to: number
  /** Px of `from`. */
  readonly left: number
  /** Px in a unit. */
  readonly scale: number
  /** Px of its line, from the top of the sheet. */
  readonly y: number
  /** The white between each voice and the next, in px from the top of the sheet. */
  readonly gaps: readonly (readonly [top: number, bottom: number])[]
}

/** The piece as sheets; at least one. The title stands on none of them. */
export function lectureOf(page: Page, readings: readonly Reading[], room: LectureRoom): LectureSheet[] {
  const passage = passageRead(page, readings)
  const steps = stepsOf({ ...passage, to: Infinity })
  const { width, height, zoom = 1 } = room
  // without its title a sheet has so much more room
  const head = (HEAD * width) / USUAL_WIDTH
  const sheets = layTimeSheets(
    { page: passage.page, readings: passage.readings, score: passage.score },
    {
      width,
      sheetHeight: height + head,
      ...(zoom === 1 ? {} : { size: (zoom * width) / USUAL_WIDTH }),
    },
  )
  return sheets.map(sheet => sheetOf(sheet, steps))
}

/** The time view's own measures: a picture is meant to be 1920 px wide, its title 82 high, a staff space 17. */
const USUAL_WIDTH = 1920
const HEAD = 82
const STAFF_SPACE = 17

function sheetOf({ scene, systems }: LaidTimeSheet, steps: Steps): LectureSheet {
  const head = (HEAD * scene.unit) / STAFF_SPACE
  const content = scene.content.filter(({ part }) => part !== "title")
  const found = new Set<LectureStep>([1])
  const signs = new Set<SignId>()
  walk(content, steps, (step, item) => {
    found.add(step)
    if (item.part === "duration" && item.sign !== undefined) signs.add(item.sign)
  })
  return {
    width: scene.width,
    height: scene.height - head,
    unit: scene.unit,
    signs,
    axes: systems.map(system => axisOf(system, head)),
    steps: [...found].sort((a, b) => a - b),
    adds: step => [{ shape: "group", part: "step", y: -head, content: only(content, steps, step) }],
  }
}

function axisOf({ system, top }: LaidSystem, head: number): LectureAxis {
  const { axis, axisY, placed } = system
  const { from, to, left, scale } = axis
  const down = top - head
  const gaps = placed.slice(1).map((below, i) => [down + placed[i]!.bottom, down + below.top] as const)
  return { from, to, left, scale, y: down + axisY, gaps }
}

function walk(items: readonly Item[], steps: Steps, see: (step: LectureStep, item: Item) => void): void {
  for (const item of items) {
    const step = stepOf(item, steps)
    if (step !== undefined) see(step, item)
    else if (item.shape === "group") walk(item.content, steps, see)
  }
}

/** Marks of one step alone, in their places. */
function only(items: readonly Item[], steps: Steps, wanted: LectureStep): Item[] {
  return items.flatMap((item): Item[] => {
    const step = stepOf(item, steps)
    if (step !== undefined) return step === wanted ? [item] : []
    if (item.shape !== "group") return []
    const content = only(item.content, steps, wanted)
    return content.length > 0 ? [{ ...item, content }] : []
  })
}

/** Where the perfections are. */
const SECOND: ReadonlySet<string> = new Set(["perfection", "pillar", "joined-pillar", "measured"])
/** What comes of it all. */
const LAST: ReadonlySet<string> = new Set(
  "tick echo-note thread modern-value modern tie tuplet rival rival-duration post or dots crack".split(" "),
)

/** In which step a mark appears; undefined for a group that holds marks of several. */
function stepOf(item: Item, steps: Steps): LectureStep | undefined {
  const { part } = item
  if (SECOND.has(part ?? "")) return 2
  if (LAST.has(part ?? "")) return 5
  if (item.shape !== "group") return 1
  if (part === "duration" || part === "sleeve") return (item.sign && steps.get(item.sign)) ?? 5
  return undefined
}
