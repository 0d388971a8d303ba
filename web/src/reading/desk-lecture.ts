/** Sheets for the presenter's view: laid once for a reading and a wall, written as they are asked for. */
import {
  drawSheets,
  flatSigns,
  lectureOf,
  svgOf,
  type Item,
  type LectureSheet,
  type Page,
  type Reading,
  type SignId,
} from "@resolutio/core"
import { SHOWN } from "../look/theme.js"
import type { LectureTold, LectureWanted } from "./messages.js"

let last: Laid | undefined
interface Laid {
  readonly readings: readonly Reading[]
  readonly look: string
  readonly sheets: readonly LectureSheet[]
}

export function lectureFor(page: Page, readings: readonly Reading[], wanted: LectureWanted): LectureTold {
  const { view, width, height, zoom } = wanted
  const look = [view, width, height, zoom].join(" ")
  if (last?.readings !== readings || last.look !== look)
    last = { readings, look, sheets: view === "time" ? lectureOf(page, readings, wanted) : writtenSheets(page, wanted) }
  const { sheets } = last
  const holding = sheetHolding(page, sheets, wanted.sign)
  const asked = wanted.sheet === undefined ? Math.max(0, holding) : wanted.sheet < 0 ? sheets.length - 1 : wanted.sheet
  const number = Math.min(asked, sheets.length - 1)
  const sheet = sheets[number]!
  // grounds and pillars lie under everything else
  const order = [...sheet.steps].sort((a, b) => Number(b === 2) - Number(a === 2) || a - b)
  const first = firstOn(page, sheet)
  return {
    ...(first === undefined ? {} : { first }),
    sheets: sheets.length,
    sheet: number,
    width: sheet.width,
    height: sheet.height,
    unit: sheet.unit,
    axes: sheet.axes,
    layers: order.map(step => ({ step, svg: svgOf(sheet.adds(step), {}, { theme: SHOWN }) })),
  }
}

/** Px in a staff space of the page, where the wall is 1920 px wide. */
const SPACE = 26

/** The page as it was written, in one step. */
function writtenSheets(page: Page, { width, height, zoom }: LectureWanted): LectureSheet[] {
  const unit = (SPACE * zoom * width) / 1920
  const scenes = drawSheets({ ...page, title: "" }, { width, unit, sheetHeight: height })
  return scenes.map(scene => ({
    width: scene.width,
    height: scene.height,
    unit: scene.unit,
    signs: new Set(signsIn(scene.content)),
    axes: [],
    steps: [1],
    adds: () => [...scene.content],
  }))
}

function* signsIn(items: readonly Item[]): Generator<SignId> {
  for (const item of items) {
    if (item.sign !== undefined) yield item.sign
    if (item.shape === "group") yield* signsIn(item.content)
  }
}

/** The first sign on a sheet, voice after voice. */
function firstOn(page: Page, { signs }: LectureSheet): SignId | undefined {
  for (const voice of page.voices)
    for (const { sign } of flatSigns(voice))
      if (signs.has(sign.id) && (sign.kind === "note" || sign.kind === "rest")) return sign.id
  return undefined
}

/** That on which the sign sounds, or the one before it that does; -1: none. */
function sheetHolding(page: Page, sheets: readonly LectureSheet[], sign: SignId | undefined): number {
  for (const voice of page.voices) {
    const ids = flatSigns(voice).map(one => one.sign.id)
    for (let at = sign === undefined ? -1 : ids.indexOf(sign); at >= 0; at--) {
      const found = sheets.findIndex(({ signs }) => signs.has(ids[at]!))
      if (found >= 0) return found
    }
  }
  return -1
}
