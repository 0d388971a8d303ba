/** Places on a photograph, in its own px and in the window. */
import type { Page, writing } from "@resolutio/core"
import { select } from "../view/view.js"
import { beginningAt } from "./regions-known.js"

export type Box = writing.RegionBox
export type Point = readonly [x: number, y: number]

/** In parts of the whole, so that it holds at every size. */
export const placeOf = ([x1, y1, x2, y2]: Box, [left, top, right, bottom]: Box) => ({
  left: `${(100 * (x1 - left)) / (right - left)}%`,
  top: `${(100 * (y1 - top)) / (bottom - top)}%`,
  width: `${(100 * (x2 - x1)) / (right - left)}%`,
  height: `${(100 * (y2 - y1)) / (bottom - top)}%`,
})

/** A place of the window in px of the photograph, never outside it. */
export function pointIn(sheet: Element, [left, top, right, bottom]: Box, x: number, y: number): Point {
  const box = sheet.getBoundingClientRect()
  const part = (at: number, from: number, length: number): number => Math.min(1, Math.max(0, (at - from) / length))
  return [left + part(x, box.left, box.width) * (right - left), top + part(y, box.top, box.height) * (bottom - top)]
}

/** Whoever goes to a region goes to the sign at which it begins. */
export function goToRegion(page: Page, zone: string): void {
  const sign = beginningAt(page, zone)?.sign
  if (sign !== undefined) select(sign)
}
