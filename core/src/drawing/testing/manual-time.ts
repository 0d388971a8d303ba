/** The time view that the manual shows: what `draw --view time --from 48 --select "contratenor 29"` draws. */
import { ratio } from "../../base/index.js"
import { findSign, type Page } from "../../page/index.js"
import { inputOf } from "../time/testing/drawn.js"
import { drawTime } from "../time/index.js"
import type { Scene } from "../scene/scene.js"

export function manualTime(page: Page): Scene {
  const asked = findSign(page, "contratenor 29")
  return drawTime(inputOf(page), { from: ratio(48), ...(asked ? { select: asked.id } : {}) })
}
