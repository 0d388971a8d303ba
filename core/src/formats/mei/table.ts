/** A table whose keys come from files: "constructor" and its like are not in it unless it says so. */
export function table<T>(entries: Readonly<Record<string, T>>): Readonly<Record<string, T | undefined>> {
  return Object.assign(Object.create(null) as Record<string, T>, entries)
}
