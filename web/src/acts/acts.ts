/**
 * Everything that can be done, in one list: with its words, its key, and when it can be done. Buttons, keys and the list that is
 * searched all take it from here.
 */
import { words } from "../words/index.js"

export type ActGroup = keyof typeof words.groups

export interface Act {
  readonly id: string
  readonly group: ActGroup
  readonly words: string
  /** As `KeyboardEvent.key` has it, after "Ctrl+", "Shift+" or both: "o", "Shift+N", "Ctrl+z", "ArrowLeft". */
  readonly key?: string
  /** Another key for the same. */
  readonly otherKey?: string
  /** Its key acts while one writes on the page, and only then. */
  readonly whileWriting?: boolean
  /** Cannot be done now. */
  readonly isOff?: () => boolean
  readonly run: () => void
}

export class Acts {
  readonly #all = new Map<string, Act>()
  readonly #byKey = new Map<string, Act>()
  readonly #byWritingKey = new Map<string, Act>()

  add(...acts: Act[]): void {
    for (const act of acts) {
      this.#all.set(act.id, act)
      const keys = act.whileWriting ? this.#byWritingKey : this.#byKey
      for (const key of [act.key, act.otherKey]) if (key !== undefined) keys.set(key, act)
    }
  }

  get all(): readonly Act[] {
    return [...this.#all.values()]
  }

  find(id: string): Act {
    const act = this.#all.get(id)
    if (!act) throw new Error(`no act ${id}`)
    return act
  }

  /** While one writes, letters and figures are for that alone. */
  forKey(key: string, isWriting = false): Act | undefined {
    if (!isWriting) return this.#byKey.get(key)
    return this.#byWritingKey.get(key) ?? (/^(Shift\+)?[\p{L}\p{N}]$/u.test(key) ? undefined : this.#byKey.get(key))
  }

  run(id: string): void {
    const act = this.find(id)
    if (!act.isOff?.()) act.run()
  }
}

/** "Ctrl+Shift+z", "Shift+N", "ArrowLeft"; undefined where the key is for the browser or the system. */
export function keyOf(event: Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "altKey" | "shiftKey">): string {
  const { key, shiftKey } = event
  const letter = key.length === 1
  const ctrl = event.ctrlKey || event.metaKey ? "Ctrl+" : ""
  // a shifted sign such as "?" already says that it is shifted
  const shift = shiftKey && (!letter || /\p{L}/u.test(key)) ? "Shift+" : ""
  const plain = letter ? (shift === "" || ctrl !== "" ? key.toLowerCase() : key.toUpperCase()) : key
  return ctrl + shift + plain
}

const SHOWN: Readonly<Record<string, string>> = {
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  Escape: "Esc",
  " ": "Space",
}
/** A key as it is shown: "Ctrl ⇧ Z". */
export function keyShown(key: string): string {
  const parts = key.split("+").filter(part => part !== "")
  if (key.endsWith("+")) parts.push("+")
  return parts
    .map(part => (part === "Shift" ? "⇧" : (SHOWN[part] ?? (part.length === 1 ? part.toUpperCase() : part))))
    .join(" ")
}
