/** A sign as it is typed: without its id, and without what only a file or a photograph knows of it. */
import type { Sign } from "../signs.js"

/** Equal for signs that look alike. Short for what a voice is full of; typing compares them all. */
export function lookOf(sign: Sign): string {
  const known = looks.get(sign)
  if (known !== undefined) return known
  const look = JSON.stringify(sign, leftOut)
  looks.set(sign, look)
  return look
}
const looks = new WeakMap<Sign, string>()

const UNTYPED: ReadonlySet<string> = new Set(["id", "zone", "extra"])
const leftOut = (key: string, value: unknown): unknown =>
  UNTYPED.has(key) || value === false ? undefined : ordered(value)

/** An object says the same in whatever order its members were put down. */
function ordered(value: unknown): unknown {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return value
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
}

/** Whether two values say the same. */
export const sayTheSame = (a: unknown, b: unknown): boolean =>
  a === b || JSON.stringify(a, (_, value) => ordered(value)) === JSON.stringify(b, (_, value) => ordered(value))

/** The sign as `after` has it, that it is the one of `before`, and what only the file knew of that. */
export function asSame<S extends Sign>(after: S, before: Sign): S {
  const { zone, extra } = before
  return { ...after, id: before.id, ...(zone !== undefined && { zone }), ...(extra !== undefined && { extra }) }
}
