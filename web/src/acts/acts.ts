/**
 * Everything that can be done, in one list: with its words, its key, and when it can be done. Buttons, keys and the list that is
 * searched all take it from here.
 */
import { words } from "../words/index.js"

export type ActGroup = keyof typeof words.groups

export type KeyMode = "writing" | "presenting"

export interface Act {
  readonly id: string
  readonly group: ActGroup
  readonly words: string
  /** As `KeyboardEvent.key` has it, after "Ctrl+", "Shift+" or both: "o", "Shift+N", "Ctrl+z", "ArrowLeft". */
  readonly key?: string
  /** Other keys for the same. */
  readonly otherKey?: string | readonly string[]
  /** Its key acts while one writes on the page, or shows it to others, and only then. */
  readonly mode?: KeyMode
  /** Cannot be done now. */
  readonly isOff?: () => boolean
  readonly run: () => void
}

export class Acts {
  readonly #all = new Map<string, Act>()
  readonly #byKey = {
    usual: new Map<string, Act>(),
    writing: new Map<string, Act>(),
    presenting: new Map<string, Act>(),
  }

  add(...acts: Act[]): void {
    for (const act of acts) {
      this.#all.set(act.id, act)
      const keys = this.#byKey[act.mode ?? "usual"]
      for (const key of [act.key, act.otherKey].flat()) if (key !== undefined) keys.set(key, act)
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

  /** While one writes, letters and figures are for that alone; while one shows the music, all keys are. */
  forKey(key: string, mode?: KeyMode): Act | undefined {
    const { usual, writing, presenting } = this.#byKey
    if (mode === "presenting") return presenting.get(key)
    if (mode === undefined) return usual.get(key)
    return writing.get(key) ?? (/^(Shift\+)?[\p{L}\p{N}]$/u.test(key) ? undefined : usual.get(key))
  }

  run(id: string): void {
    const act = this.find(id)
    if (!act.isOff?.()) act.run()
  }
}

/** "Ctrl+Shift+z", "Shift+N", "ArrowLeft"; undefined where the key is for the browser or the system. */
export function keyOf(event: Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "altKey" | "shiftKey">): string {
  const { key, shiftKey } = event
  const letter = key.length === 1 && key !== " "
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
  "-": "−",
}
/** A key as it is shown: "Ctrl ⇧ Z". */
export function keyShown(key: string): string {
  const parts = key.split("+").filter(part => part !== "")
  if (key.endsWith("+")) parts.push("+")
  return parts
    .map(part => (part === "Shift" ? "⇧" : (SHOWN[part] ?? (part.length === 1 ? part.toUpperCase() : part))))
    .join(" ")
}
