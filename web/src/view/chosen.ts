/** The signs that are chosen: the one selected, or all between it and the other end. */
import type { Page, SignId } from "@resolutio/core"
import { flatOf, indexIn, voiceOf } from "../document/index-signs.js"
import type { ViewState } from "./view.js"

export function chosenIn(page: Page, { selected, anchor }: Pick<ViewState, "selected" | "anchor">): SignId[] {
  const voice = selected && voiceOf(page, selected)
  if (!voice) return []
  const here = indexIn(voice, selected)!
  const other = anchor === undefined ? here : (indexIn(voice, anchor) ?? here)
  return flatOf(voice)
    .slice(Math.min(here, other), Math.max(here, other) + 1)
    .map(({ sign }) => sign.id)
}
