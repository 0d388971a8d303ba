/** Long work: how far it is, and an end when someone asks for one. */
import type { Shell } from "./shell.js"

/** Thrown where the work is ended from outside. */
export class Stopped extends Error {}

/** Seconds after which it is said that something goes on. */
const PATIENCE = 1

export interface Watch {
  readonly signal: AbortSignal
  /** Says how far the named work is; throws `Stopped` where it is to end. */
  readonly say: (what: string, part: number) => void
  /** Takes the line of progress away, and no longer waits for an interrupt. */
  readonly done: () => void
}

/** An interrupt from the keyboard, and how else a program is asked to end. */
const ENDINGS = ["SIGINT", "SIGTERM", "SIGHUP"] as const

/** From now on an interrupt from the keyboard ends the work rather than the program. */
export function watch(shell: Shell): Watch {
  const controller = new AbortController()
  const stop = (): void => controller.abort()
  if (!shell.signal) for (const one of ENDINGS) process.once(one, stop)
  const signal = shell.signal ?? controller.signal
  const start = Date.now()
  let told = false
  const say = (what: string, part: number): void => {
    if (signal.aborted) throw new Stopped("stopped")
    if (Date.now() - start < PATIENCE * 1000) return
    if (shell.status) shell.status(`${what}: ${Math.round(100 * part)} % (Ctrl-C stops)`)
    else if (!told) shell.err(`${what} …`)
    told = true
  }
  const done = (): void => {
    for (const one of ENDINGS) process.off(one, stop)
    if (told) shell.status?.("")
  }
  return { signal, say, done }
}

/** Now and then lets an interrupt through and says how far it is; between that it does not wait. */
export function resting(say: (part: number) => void): (part: number) => Promise<void> | undefined {
  let rested = Date.now()
  const pause = async (part: number): Promise<void> => {
    await new Promise(resolve => void setImmediate(resolve))
    say(part)
    rested = Date.now()
  }
  return part => (Date.now() - rested < 50 ? undefined : pause(part))
}
