/** The last element for which `holds` is true; undefined when there is none. */
export function lastWhere<T>(all: readonly T[], holds: (one: T) => boolean): T | undefined {
  for (let i = all.length - 1; i >= 0; i--) if (holds(all[i]!)) return all[i]
  return undefined
}
