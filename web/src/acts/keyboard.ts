/** Keys. Whoever types text, chooses from a list or moves a slider keeps the keys for that. */
import { view } from "../view/view.js"
import { keyOf, type Acts, type KeyMode } from "./acts.js"

const TEXT = "input:not([type=checkbox]):not([type=radio]):not([type=button]), textarea, select, [contenteditable=true]"

export function listenToKeys(acts: Acts, target: Pick<Window, "addEventListener"> = window): void {
  target.addEventListener("keydown", event => {
    if (event.defaultPrevented || event.isComposing || isTypedAhead(event)) return
    const act = acts.forKey(keyMeant(event) ?? "", modeNow())
    if (!act || act.isOff?.() || belongsElsewhere(event)) return
    event.preventDefault()
    act.run()
  })
}

let ahead = ""
let isEntered = false

/** A sheet that was asked for may still be on its way: what is typed meanwhile is meant for it, and does nothing else. */
function isTypedAhead(event: KeyboardEvent): boolean {
  const { key, ctrlKey, metaKey, altKey } = event
  const { sheet, presenting } = view.getState()
  if (sheet === undefined) [ahead, isEntered] = ["", false]
  const isMeant = (key.length === 1 || key === "Backspace" || key === "Enter") && !ctrlKey && !metaKey && !altKey
  if (!isMeant || sheet === undefined || presenting || document.querySelector("section.sheet")) return false
  if (key === "Enter") isEntered = true
  else if (!isEntered) ahead = key === "Backspace" ? ahead.slice(0, -1) : ahead + key
  event.preventDefault()
  return true
}

/** What was typed before the sheet was there, given to the field that has the keys then. */
export function giveTypedAhead(field: Element | null | undefined): void {
  const [text, isWhole] = [ahead, isEntered]
  ;[ahead, isEntered] = ["", false]
  if (text === "" || !(field instanceof HTMLInputElement) || field.type !== "text") return
  field.setRangeText(text, field.value.length, field.value.length, "end")
  field.dispatchEvent(new InputEvent("input", { bubbles: true, data: text, inputType: "insertText" }))
  if (isWhole) queueMicrotask(() => field.form?.requestSubmit())
}

function modeNow(): KeyMode | undefined {
  const { writing, presenting } = view.getState()
  return presenting ? "presenting" : writing ? "writing" : undefined
}

/** Where letters are not to act by themselves, Alt makes them act. */
function keyMeant(event: KeyboardEvent): string | undefined {
  const isLetter = event.key.length === 1 && !event.ctrlKey && !event.metaKey
  if (!isLetter) return event.altKey ? undefined : keyOf(event)
  const { letters } = view.getState()
  if (letters) return event.altKey ? undefined : keyOf(event)
  return event.altKey ? keyOf({ ...pick(event), altKey: false }) : undefined
}
const pick = ({ key, ctrlKey, metaKey, altKey, shiftKey }: KeyboardEvent) => ({
  key,
  ctrlKey,
  metaKey,
  altKey,
  shiftKey,
})

function belongsElsewhere(event: KeyboardEvent): boolean {
  const { key, ctrlKey, metaKey } = event
  // the text's editor stands in a shadow, from outside of which its target cannot be seen
  const target = event.composedPath()[0] ?? event.target
  if (!(target instanceof Element)) return false
  if (key === "Escape") return false
  if (target.closest(TEXT)) return true
  if (ctrlKey || metaKey) return false
  const arrows = key.startsWith("Arrow") || key === "Home" || key === "End"
  if (arrows && target.closest("[data-arrows], [role=radiogroup], input[type=radio]")) return true
  // Enter and the space bar press what they stand on
  return (key === " " || key === "Enter") && target.closest("button, a, summary, label, input") !== null
}
