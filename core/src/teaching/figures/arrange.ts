/** In how many pictures a passage stands: which voices together, how much time in each, and what is shown of each voice. */
import { ruledOf } from "../../drawing/index.js"
import { partsOf, type Parts } from "./parts.js"
import { NEAR, type Passage } from "./passage.js"
import { fitsAtAll, type StripRoom } from "./strip/fit.js"
import type { Rows } from "./strip/look.js"

export interface Wanted {
  /** No more than so many pictures; more are a passage that is too long. */
  readonly most: number
  /** What is too long is shown in part. */
  readonly inPart: boolean
}

/** Stretches of time, one behind the other; each in as many pictures as there are groups of voices. */
export interface Arranged extends Parts {
  readonly rows: Rows
  readonly groups: Groups
}

/** The numbers of voices that stand together. */
type Groups = readonly (readonly number[])[]

export const groupsOf = (passage: Passage, groups: Groups): Passage[] =>
  groups.map(own => ({ ...passage, voices: own.map(i => passage.voices[i]!) }))

/** With a modern staff, what is shown of each voice; less where several voices have little room. */
const STAFF: readonly Rows[] = [
  { sung: true, words: true, sums: true, modern: "staff" },
  { sung: true, words: true, modern: "staff" },
  { sung: true, modern: "staff" },
  { modern: "staff" },
]
const VALUES: readonly Rows[] = [
  { sung: true, words: true, modern: "values" },
  { sung: true, modern: "values" },
  { modern: "values" },
  { modern: "values", tight: true },
]
/** So many times the pictures for a modern staff in place of bare values. */
const FOR_STAFF = 2
/** Of what bare values show of a passage that is too long, so much is enough. */
const ENOUGH = 0.6

/** All voices with a modern staff in one picture, or else as many in each as have room; where one has none, bare values. */
export function arrange(passage: Passage, wanted: Wanted, room: StripRoom): Arranged | undefined {
  const of = JSON.stringify([passage.from, passage.voices.map(one => one.voice.id), room])
  const known = shortened.get(passage.page)
  if (known?.of === of && Math.abs(upTo(known.arranged) - (passage.to - passage.from)) < NEAR)
    return { ...known.arranged, cut: false }
  const arranged = arrangeAnew(passage, wanted, room)
  if (arranged?.cut) shortened.set(passage.page, { of, arranged })
  return arranged
}

/** What was shown of a piece in part is asked for once more, as a passage that ends there. */
const shortened = new WeakMap<Passage["page"], { readonly of: string; readonly arranged: Arranged }>()

/** Whether voices have to stand in several pictures, as far as the first perfection tells. */
export function isShared(passage: Passage, room: StripRoom): boolean {
  const rubrics = rubricsIn(room)
  return passage.voices.length > 1 && !fitsAtAll([firstOf(passage)], { ...STAFF.at(-1)!, rubrics }, room)
}

const rubricsIn = ({ width }: StripRoom): Rows["rubrics"] => (width > 1300 ? "left" : "above")

function arrangeAnew(passage: Passage, wanted: Wanted, room: StripRoom): Arranged | undefined {
  const rubrics = rubricsIn(room)
  const named = (all: readonly Rows[]) => all.map(rows => ({ ...rows, rubrics }))
  const [staff, values] = [named(STAFF), named(VALUES)]
  const groupings = passage.voices.map((_, i) => grouped(passage.voices.length, i + 1))
  const bare = fewest(passage, groupings, (passage.voices.length > 1 ? values : staff).at(-1)!, wanted, room)
  if (!bare) return undefined
  for (const groups of groupings) {
    const found = richest(passage, staff, { groups, bare, most: mostOf(bare, groups, wanted) }, room)
    if (found) return found
  }
  const own = passage.voices.length > 1 ? values : staff
  return richest(passage, own, { groups: bare.groups, bare, most: bare.parts.length }, room) ?? bare
}

/** As even as can be: of five in two groups, three and two. */
function grouped(voices: number, groups: number): number[][] {
  const all = Array.from({ length: voices }, (_, i) => i)
  const begin = (group: number) => Math.ceil((voices * group) / groups)
  return Array.from({ length: groups }, (_, group) => all.slice(begin(group), begin(group + 1)))
}

/** The fewest pictures are those with the fewest rows and the fewest groups of voices. */
function fewest(
  passage: Passage,
  groupings: readonly Groups[],
  rows: Rows,
  { most }: Wanted,
  room: StripRoom,
): Arranged | undefined {
  for (const groups of groupings) {
    const found = tried(passage, namedIn(groups, rows), groups, Math.max(1, Math.floor(most / groups.length)), room)
    if (found && (found.cut !== "wide" || groups.length === passage.voices.length)) return found
  }
  return undefined
}

/** For a modern staff there may be more stretches of time; a passage that is shown in part may take as many for each group. */
function mostOf(bare: Arranged, groups: Groups, { most, inPart }: Wanted): number {
  const stretches = inPart ? most : Math.max(1, Math.floor(most / groups.length))
  return bare.cut ? stretches : Math.min(bare.parts.length * FOR_STAFF, stretches)
}

interface Tried {
  readonly groups: Groups
  readonly bare: Arranged
  readonly most: number
}

function richest(
  passage: Passage,
  variants: readonly Rows[],
  { groups, bare, most }: Tried,
  room: StripRoom,
): Arranged | undefined {
  for (const variant of variants) {
    const rows = namedIn(groups, variant)
    if (!fitsAtAll(groupsOf(firstOf(passage), groups), rows, room)) continue
    const found = tried(passage, rows, groups, most, room)
    const enough = found && (bare.cut ? upTo(found) > upTo(bare) * ENOUGH : !found.cut)
    if (enough) return found
  }
  return undefined
}
const namedIn = (groups: Groups, rows: Rows): Rows => (groups.length > 1 ? { ...rows, named: true } : rows)
const upTo = ({ parts }: Parts): number => parts.at(-1)!.to - parts[0]!.from

function tried(passage: Passage, rows: Rows, groups: Groups, most: number, room: StripRoom): Arranged | undefined {
  const found = partsOf(passage, part => fitsAtAll(groupsOf(part, groups), rows, room), most)
  return found && { ...found, rows, groups }
}

/** As much as stands in any picture: its first perfection. */
function firstOf(passage: Passage): Passage {
  const { voices, from, to } = passage
  const end = voices[0] && ruledOf(voices[0], to).pillars.find(({ at }) => at > from + NEAR && at < to - NEAR)
  return end ? { ...passage, to: end.at } : passage
}
