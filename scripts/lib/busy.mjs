// How long the thread that asks is at work. Neither other programs nor what the engine does on threads of its own count.
import { existsSync, readFileSync } from "node:fs"

/**
 * Linux tells it of each thread, in nanoseconds, but counts on only every four milliseconds: for acts of some tens of them. Elsewhere it
 * is known of all threads together.
 */
const THREAD = "/proc/thread-self/schedstat"
const now = existsSync(THREAD)
  ? () => Number(readFileSync(THREAD, "latin1").split(" ")[0]) / 1e6
  : () => {
      const { user, system } = process.cpuUsage()
      return (user + system) / 1000
    }

/** Milliseconds. */
export function busyFor(act) {
  const before = now()
  act()
  return now() - before
}
