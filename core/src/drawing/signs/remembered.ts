/** What is drawn again and again in one of a few forms is the same object each time: whoever writes it knows it then. */
import type { Drawn } from "./drawn.js"

const MOST = 400

/** What was made for a key before; else it is made now. Keys tell all that it is made from. */
export function remembering(): (key: string, make: () => Drawn) => Drawn {
  const known = new Map<string, Drawn>()
  return (key, make) => {
    let drawn = known.get(key)
    if (drawn === undefined) {
      if (known.size >= MOST) known.clear()
      known.set(key, (drawn = make()))
    }
    return drawn
  }
}
