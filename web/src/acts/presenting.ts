/** Acts of the presenter's view. Keys of the small devices with which one leafs from afar (PageUp, PageDown) do too. */
import type { SignId } from "@resolutio/core"
import type { App } from "../app.js"
import { presented } from "../presenting/presenter.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"

/** `sight`: acts of the window that are the same here. */
export function presentingActs(
  { presenter, player, readings }: Pick<App, "presenter" | "player" | "readings">,
  sight: readonly Act[],
): Act[] {
  const said = words.presenting
  const act = (id: string, shown: string, key: string, run: () => void, otherKey?: Act["otherKey"]): Act => ({
    id,
    group: "present",
    words: shown,
    key,
    ...(otherKey === undefined ? {} : { otherKey }),
    mode: "presenting",
    isOff: () => view.getState().presenting !== true,
    run,
  })
  const same = (id: string): Act[] =>
    sight
      .filter(one => one.id === id)
      .map(one => ({ ...one, id: `present-${id}`, mode: "presenting", group: "present" }))
  return [
    {
      id: "present",
      group: "present",
      words: said.begin,
      key: "Shift+P",
      run: () => presenter.begin(),
    },
    act("onward", said.onward, "ArrowRight", () => presenter.onward(), ["PageDown", "Enter"]),
    act("backward", said.backward, "ArrowLeft", () => presenter.backward(), ["PageUp", "Shift+Enter"]),
    act("sheet-after", said.sheetAfter, "ArrowDown", () => presenter.toSheet(({ sheet }) => sheet + 1)),
    act("sheet-before", said.sheetBefore, "ArrowUp", () => presenter.toSheet(({ sheet }) => Math.max(0, sheet - 1))),
    act("sheet-first", said.first, "Home", () => presenter.toSheet(() => 0)),
    act("sheet-last", said.last, "End", () => presenter.toSheet(() => -1)),
    act("steps", said.stepwise, "s", () => presenter.turnWhole()),
    act("present-page", said.page, "1", () => presenter.show("page")),
    act("present-time", said.time, "2", () => presenter.show("time")),
    act("present-listen", words.acts.listen, " ", () => player.turn(readings.store.getState().page, beginning())),
    act("present-stop", words.acts.stopSound, "Shift+ ", () => player.stop()),
    act("present-louder", words.acts.louder, ">", () => player.louder(0.1)),
    act("present-softer", words.acts.softer, "<", () => player.louder(-0.1)),
    act("present-larger", words.acts.larger, "+", () => presenter.zoomBy(1), "="),
    act("present-smaller", words.acts.smaller, "-", () => presenter.zoomBy(-1)),
    ...same("ground"),
    ...same("whole"),
    act("leave", said.leave, "Escape", () => presenter.end()),
  ]
}

/** It sounds from the beginning of the sheet. */
const beginning = (): SignId | undefined => presented.getState().told?.first ?? view.getState().selected
