/** The part of docs/weights.md about what a voice shows of its scribe, made from the code. */
import {
  AVERAGE_WEIGHS,
  DEAREST,
  habitsOf,
  LEFT_OUT,
  noRuns,
  SIZES_EARLY,
  SIZES_MANY,
  type Habits,
} from "../../core/src/reading/semibreve-habits.js"

interface Shown {
  readonly title: string
  /** Runs without a dot, by length, and dots between groups. */
  readonly runs: Readonly<Record<number, number>>
  readonly dots: number
}
const VOICES: readonly Shown[] = [
  { title: "nothing", runs: {}, dots: 0 },
  { title: "20 pairs and threes, none beside another", runs: { 2: 10, 3: 10 }, dots: 0 },
  { title: "20 pairs and threes, parted by 5 dots", runs: { 2: 10, 3: 10 }, dots: 5 },
  { title: "40 pairs and threes, parted by 20 dots", runs: { 2: 20, 3: 20 }, dots: 20 },
  { title: "10 pairs and threes, 10 of four, parted by 10 dots", runs: { 2: 5, 3: 5, 4: 10 }, dots: 10 },
  { title: "10 pairs and threes, 5 runs of seven to nine, no dots", runs: { 2: 5, 3: 5, 7: 2, 8: 2, 9: 1 }, dots: 0 },
]

const percent = (share: number): string => `${Math.round(100 * share)} %`
const signed = (price: number): string => (price > 0 ? `+${price}` : String(price).replace("-", "−"))

/** Prices of three kinds of boundary or group in voices that show so much. */
export function habitWeights(): string {
  const rows = VOICES.map(({ title, runs, dots }) => {
    const counted = noRuns()
    for (const [length, n] of Object.entries(runs)) counted.lengths[Number(length)] = n
    counted.dots = dots
    return [
      title,
      ...pricesOf(habitsOf(counted, SIZES_EARLY, true, DEAREST.alone)),
      signed(habitsOf(counted, SIZES_MANY, false, DEAREST.alone).boundary),
    ]
  })
  const head = [
    "what the voice shows",
    "1315-25: a boundary without a dot",
    "a pair, a three, a four",
    "c. 1300, divided breves: a boundary without a dot",
  ]
  return [HABITS, [head, head.map(() => "---"), ...rows].map(cells => `| ${cells.join(" | ")} |`).join("\n")].join(
    "\n\n",
  )
}

const pricesOf = ({ boundary, sizes }: Habits): string[] => [
  signed(boundary),
  [2, 3, 4].map(size => signed(sizes[size]!)).join(", "),
]

const HABITS = `### What a voice shows of its scribe

These prices are those of a voice that shows nothing. A scribe is consistent (common practice), so each voice changes them by what it shows: runs without a dot inside, by their length, and dots between two groups. How often a group is followed by another, and how often the dot between is left out, is weighed over all values by how well it foretells what is written. Beforehand any share of groups is as likely to be followed by another; the dots left out are ${percent(LEFT_OUT)} on the mean (counted: a third to a fifth), few in most voices and nearly all in some (an estimate). For the plain semibreves of 1315-25 the sizes of groups are the voice's own too: ${AVERAGE_WEIGHS} groups of the average voice (${SIZES_EARLY.flatMap((share, size) => (share > 0 ? [`${size}: ${share} %`] : [])).join(", ")}; estimates by which an undotted four is one breve 27 to 7, as counted) weigh as much as those that are seen. Runs with a stem down or the edge of a ligature inside do not count, nor about 1300 those of four and more that stand between dots or have a syllable to each note. Where a breve holds two or three only, pairs need no dots, and nothing is changed. A boundary becomes dearer by ${DEAREST.alone} at most in a voice read by itself, and by ${DEAREST.together} where voices are read together: nobody forgets no dot at all, and it is the others that tell then (in invented pieces of 1,000 and more notes a voice, with 4, a fifth did not meet, in the manner of 1315-25). The prices move by quarters, so that an edit that tells next to nothing changes none; a run that is left whole costs the same in every voice. How much the average weighs was tried on invented voices in which dots are left out nowhere, evenly, or by the voice's habit (\`node scripts/measure.mjs --undotted 0.27 --by-voice\`): of the notes under 0.05 of doubt fewer than one in a hundred is wrong.`
