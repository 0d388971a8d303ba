/** Lists that run beside the signs of a page. */
import type { SignId } from "../../base/index.js"

/** Entries by the id of their sign, asked for in the order of the page: nearly all stand right after the last that was found. */
export class InStep<T> {
  readonly #all: readonly T[]
  readonly #idOf: (one: T) => SignId | null
  #next = 0
  #byId: Map<SignId, T> | undefined

  /** Those without an id belong to no sign. */
  constructor(all: readonly T[], idOf: (one: T) => SignId | null) {
    this.#all = all
    this.#idOf = idOf
  }

  of(id: SignId): T | undefined {
    const all = this.#all
    // one or two that are passed over belong to no sign, or to one that is gone
    const end = Math.min(all.length, this.#next + 3)
    for (let at = this.#next; at < end; at++) {
      if (this.#idOf(all[at]!) !== id) continue
      this.#next = at + 1
      return all[at]
    }
    return this.#elsewhere(id)
  }

  #elsewhere(id: SignId): T | undefined {
    if (this.#byId === undefined) {
      this.#byId = new Map()
      for (const one of this.#all) {
        const own = this.#idOf(one)
        if (own !== null) this.#byId.set(own, one)
      }
    }
    return this.#byId.get(id)
  }
}
