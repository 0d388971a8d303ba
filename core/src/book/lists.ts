/** Names in a sentence. */

/** "a", "a and b", "a, b and c". */
export function listed(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`
}

/** "The cantus", "The cantus and the tenor", "All voices": voices of a piece as the subject of a sentence. */
export function voicesNamed(
  names: readonly string[],
  all: number,
): { readonly subject: string; readonly many: boolean } {
  if (names.length === all && all > 1) return { subject: all === 2 ? "Both voices" : "All voices", many: true }
  const subject = names.length === 1 && all === 1 ? "The voice" : listed(names.map(name => `the ${name}`))
  return { subject: subject.charAt(0).toUpperCase() + subject.slice(1), many: names.length > 1 }
}

const NUMBERS = "no one two three four five six seven eight nine ten eleven twelve".split(" ")

/** "one note", "30 notes"; numbers up to twelve as words. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${NUMBERS[count] ?? count} ${count === 1 ? one : many}`

/** Things that are alike together, in the order of their first. */
export function alike<T>(all: readonly T[], key: (one: T) => string): T[][] {
  const groups = new Map<string, T[]>()
  for (const one of all) groups.set(key(one), [...(groups.get(key(one)) ?? []), one])
  return [...groups.values()]
}
