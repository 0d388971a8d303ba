/** A voice as what tells of its mensuration: levels, rests, dots and colour in order, cut where the page itself cuts it. */
import type { SignId } from "../../base/index.js"
import type { FlatSign, MensurationSign, Sign, Voice } from "../../page/index.js"
import { flatSigns } from "../../page/index.js"
import { drawnDivisions, type Measuring, type Settings } from "../../practices/index.js"
import type { Chosen, ReadOptions } from "../../reading/settings.js"
import { cutVoice, type Stretch } from "../../reading/stretches.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"

export interface Token {
  readonly id: SignId
  /** Of the note or rest in its voice, from 1. */
  readonly number: number
  readonly level: number
  readonly rest: boolean
  /** Length of a rest in tempora, where the stroke says it; 0 otherwise. */
  readonly tempora: number
  /** Height of a rest, where recorded. */
  readonly loc?: number
  readonly coloured: boolean
  dot?: SignId
  /** What the file says that the dot is. */
  dotGiven?: "aug" | "div"
  /** The quality that the file gives the note. */
  readonly given?: string
  /** A stroke that parts perfections stands after it. */
  wall?: SignId
  readonly stemDown: boolean
  /** So many plain semibreves from here on stand together; 0 for a figure by itself. */
  members: number
  /** Places of those with a stem down among them, from 0. */
  stems: number[]
  /** The last note of the voice: held freely, so that its place says nothing. */
  readonly final: boolean
  /** It stands in a ligature, and not at its beginning. */
  readonly joined: boolean
  /** The page cuts the voice before it: finis punctorum, bar, section. */
  readonly opens: boolean
}

/** Tokens under one sign, or before the first. */
export interface Section {
  readonly tokens: readonly Token[]
  readonly measuring: Measuring
  /** Levels that a sign has stated so far. */
  readonly stated: ReadonlySet<LevelName>
  readonly sign?: SignId
}

const NONE: ReadonlySet<LevelName> = new Set()
const SECTION_MARKS = new Set(["section", "repeat-start", "repeat-end", "refrain-start", "refrain-end"])

/** The voice read as tokens; `grouped`: plain semibreves in a row are taken together. */
export function sectionsOf(voice: Voice, chosen: Chosen, options: ReadOptions, grouped: boolean): Section[] {
  const flat = flatSigns(voice)
  const { stretches, entries } = cutVoice(flat, chosen, options)
  const cuts = cutsBefore(flat)
  const joins = new Set(
    flat.filter(({ ligature, at = 0 }) => ligature !== undefined && at > 0).map(({ sign }) => sign.id),
  )
  const all: Token[][] = stretches.map(() => [])
  const stated: ReadonlySet<LevelName>[] = []
  let statedSoFar = NONE
  let number = 0
  let last: Token | undefined
  let opens = false
  for (const { sign, stretch, figure } of entries) {
    if (sign.kind === "mensuration") statedSoFar = new Set([...statedSoFar, ...statedBy(sign, chosen.settings)])
    if (figure >= 0) {
      number++
      stated[stretch] ??= statedSoFar
      opens ||= cuts.has(sign.id) || all[stretch]!.length === 0
      const joined = joins.has(sign.id)
      const ignoreGiven = options.ignoreGiven === true
      last = tokenOf(sign, stretches[stretch]!, figure, { number, opens, joined, ignoreGiven })
      opens = false
      all[stretch]!.push(last)
    } else if (sign.kind === "rest" || isFinis(sign)) {
      opens = true
      if (sign.kind === "rest") number++
    } else if (sign.kind === "dot" && last !== undefined) {
      if (last.dot === undefined && sign.given !== undefined && !options.ignoreGiven) last.dotGiven = sign.given
      last.dot ??= sign.id
    } else if (sign.kind === "stroke" && last !== undefined && parts(sign)) last.wall ??= sign.id
  }
  return joined(stretches, all, stated, grouped)
}

const isFinis = (sign: Sign): boolean => sign.kind === "stroke" && sign.form === "finis-punctorum"
const parts = (sign: Extract<Sign, { kind: "stroke" }>): boolean =>
  sign.form === "divisio-modi" || sign.form === "signum-perfectionis" || sign.form === "signum-rotundum"

/** Notes and rests before which a bar, a repeat or a new section stands. */
function cutsBefore(flat: readonly FlatSign[]): Set<SignId> {
  const found = new Set<SignId>()
  let cut = false
  for (const { sign } of flat) {
    if (sign.kind === "stroke" && sign.form === "bar") cut = true
    else if (sign.kind === "mark" && SECTION_MARKS.has(sign.of)) cut = true
    else if (sign.kind === "note" || sign.kind === "rest") {
      if (cut) found.add(sign.id)
      cut = false
    }
  }
  return found
}

function tokenOf(
  sign: Sign,
  { figures }: Stretch,
  figure: number,
  {
    number,
    opens,
    joined,
    ignoreGiven,
  }: { readonly number: number; readonly opens: boolean; readonly joined: boolean; readonly ignoreGiven: boolean },
): Token {
  const f = figures[figure]!
  const spaces = f.restSign?.spaces
  return {
    id: sign.id,
    number,
    level: f.level,
    rest: f.rest,
    tempora: f.rest && spaces !== undefined && spaces.den === 1 ? spaces.num : 0,
    ...(f.restSign?.loc === undefined ? {} : { loc: f.restSign.loc }),
    coloured: f.coloured,
    dot: undefined,
    dotGiven: undefined,
    given: ignoreGiven ? undefined : f.note?.given?.quality,
    wall: undefined,
    stemDown: f.stemDown,
    members: 0,
    stems: [],
    final: f.final,
    joined,
    opens,
  }
}

/** Stretches under the same sign (parted by a finis or by colour) are one section. */
function joined(
  stretches: readonly Stretch[],
  all: readonly Token[][],
  stated: readonly (ReadonlySet<LevelName> | undefined)[],
  grouped: boolean,
): Section[] {
  const sections: (Section & { readonly tokens: Token[] })[] = []
  stretches.forEach((stretch, i) => {
    const tokens = grouped ? inGroups(all[i]!) : all[i]!
    const before = sections.at(-1)
    if (stretch.quiet && before !== undefined && i > 0) for (const token of tokens) before.tokens.push(token)
    else {
      const { measuring, sign } = stretch
      sections.push({ tokens, measuring, stated: stated[i] ?? NONE, ...(sign ? { sign } : {}) })
    }
  })
  return sections.filter(section => section.tokens.length > 0)
}

/** Levels of which the sign speaks. */
function statedBy(sign: MensurationSign, settings: Settings): LevelName[] {
  const drawn = drawnDivisions(sign, settings)
  return LEVEL_NAMES.filter(level => (sign[level] ?? drawn[level]) !== undefined)
}

const SEMIBREVIS = 3

/** Semibreves (and their rests) without a dot or stroke between them become one token. */
function inGroups(tokens: readonly Token[]): Token[] {
  const groups: Token[] = []
  let open: Token | undefined
  for (const token of tokens) {
    if (token.level < SEMIBREVIS) {
      groups.push(token)
      open = undefined
      continue
    }
    if (open === undefined || token.opens) groups.push((open = { ...token, members: 0, stems: [], rest: false }))
    if (token.stemDown) open.stems.push(open.members)
    open.members++
    open.dot = token.dot
    open.wall = token.wall
    if (token.dot !== undefined || token.wall !== undefined) open = undefined
  }
  return groups
}
