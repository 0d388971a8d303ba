/** Captions: rules by their names, with the treatises that the practice cites for them. */
import { practiceNamed, type Source } from "../../practices/index.js"
import { ruleName } from "./few-words.js"
import { NEAR, type Passage } from "./passage.js"

/** How sure a source is, where it was not read. */
const MARKS = { read: "", memory: " (from memory)", inference: " (an inference)" } as const

/** "Alteration · Libellus cantus mensurabilis, c. 1340, 4; …": of several rules only the sources, each treatise once with all its places. */
export function captionFor(rules: readonly (readonly [practice: string, rule: string])[], each = 2): string {
  const names = new Set(rules.map(([, rule]) => ruleName(rule)).filter(one => one !== ""))
  const sources = rules.flatMap(([practice, rule]) => sourcesOf(practice, rule).slice(0, each))
  return [names.size === 1 ? [...names][0]! : "", told(sources)].filter(one => one !== "").join(" · ")
}

/** The rules that give or take time in a passage, each once with its practice; of others only that notes last as they are written. */
export function actingIn({
  voices,
  from,
  to,
}: Pick<Passage, "voices" | "from" | "to">): [practice: string, rule: string][] {
  const found = new Map<string, [string, string]>()
  for (const { signs, reading } of voices)
    for (const { at, reading: own } of signs)
      if (at >= from - NEAR && at < to - NEAR && /^(imperfectio|alteratio|punctus)|color/.test(own.rule))
        found.set(`${reading.practice.name} ${own.rule}`, [reading.practice.name, own.rule])
  if (found.size > 0) return [...found.values()]
  return [...new Set(voices.map(({ reading }) => reading.practice.name))].map(name => [name, "as-written"])
}

const sourcesOf = (practice: string, rule: string): readonly Source[] =>
  practiceNamed(practice)?.rules.find(one => one.id === rule)?.sources ?? []

function told(sources: readonly Source[]): string {
  const places = new Map<string, string[]>()
  for (const { treatise, place, mark } of sources) {
    const own = places.get(treatise) ?? []
    places.set(treatise, own.includes(place + MARKS[mark]) ? own : [...own, place + MARKS[mark]])
  }
  return [...places].map(([treatise, own]) => `${treatise}, ${joined(own)}`).join("; ")
}

/** "4-10" and "6-11" are "4-11". */
function joined(places: readonly string[]): string {
  const ranges = places.map(place => /^(\d+)(?:-(\d+))?$/.exec(place))
  if (places.length === 1 || ranges.includes(null)) return places.join(", ")
  const ends = ranges.map(range => [Number(range![1]), Number(range![2] ?? range![1])] as const)
  const meet = ends.every(([from, to]) =>
    ends.some(other => other[0] !== from || (other[1] !== to && from <= other[1] + 1)),
  )
  const [least, most] = [Math.min(...ends.map(one => one[0])), Math.max(...ends.map(one => one[1]))]
  return meet ? `${least}-${most}` : places.join(", ")
}

/** Who says so of an option. */
export const optionSource = (practice: string, option: string): string =>
  practiceNamed(practice)?.options.find(one => one.name === option)?.source ?? ""
