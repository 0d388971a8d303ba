/** What can become of each token of a voice under one measure, as far as the signs beside it settle it. */
import { BREVE, MINIM, type Measure } from "./measures.js"
import type { Token } from "./tokens.js"
import { LENGTH } from "./weights.js"

export interface Future {
  /** Undiminished ticks. */
  readonly full: number
  /** Ticks that nothing changes: measured rests, coloured notes. */
  readonly fixed: number | undefined
  /** Something smaller stands directly after it. */
  readonly smallerFollows: boolean
  /** Chance that it is doubled, where it is the second of two; undefined where it never is. */
  readonly doubled: number | undefined
  /** Chance that it loses a third to what follows, at the beginning of its perfection. */
  readonly short: number
  /** Chance that it is shortened from the front where it stands a unit late. */
  readonly ante: number
  /** Ticks that it may lose of its parts, with chances. */
  readonly parts: readonly (readonly [ticks: number, chance: number])[]
  /** A breve stands on one of its sides. */
  readonly nearBreve: boolean
}

const NO_PARTS: Future["parts"] = []

export function futuresOf(tokens: readonly Token[], m: Measure): Future[] {
  const colours = colouredTicks(tokens, m)
  return tokens.map((token, i) => {
    const next = tokens[i + 1]
    const closed = token.wall !== undefined || next === undefined || next.opens
    const fixed = token.rest ? restTicks(token, m) : colours[i]
    return {
      full: m.full[token.level]!,
      fixed,
      smallerFollows: !closed && next.level > token.level,
      doubled: canBeDoubled(token, m) ? (!closed && letsDouble(token, next) ? LENGTH.altered : 0) : undefined,
      short: shortChance(token, closed ? undefined : next, m),
      ante: anteChance(token, closed ? undefined : next),
      parts: closed ? NO_PARTS : partsOf(token, next, m),
      nearBreve: tokens[i - 1]?.level === BREVE || next?.level === BREVE,
    }
  })
}

function restTicks(token: Token, m: Measure): number {
  return token.tempora > 0 ? token.tempora * m.full[BREVE]! : m.full[token.level]!
}

/** Ticks of coloured notes: a third is lost where anything in them is perfect; else three are sung for two, or a pair is dotted. */
function colouredTicks(tokens: readonly Token[], m: Measure): (number | undefined)[] {
  const ticks = tokens.map((): number | undefined => undefined)
  for (let i = 0; i < tokens.length;) {
    if (!tokens[i]!.coloured) {
      i++
      continue
    }
    let to = i
    while (tokens[to]?.coloured === true) to++
    const group = tokens.slice(i, to)
    const pair = group.length === 2 && group[1]!.level === group[0]!.level + 1
    group.forEach((token, at) => {
      if (token.rest) return
      const own = m.full[token.level]!
      const perfect = m.divisions.slice(token.level, MINIM).includes(3)
      ticks[i + at] = perfect || !pair ? Math.round((own * 2) / 3) : at === 0 ? own * 0.75 : own / 2
    })
    i = to
  }
  return ticks
}

function canBeDoubled({ level, rest, coloured, dot, members }: Token, m: Measure): boolean {
  if (rest || coloured || dot !== undefined || members > 0 || level === 0 || level > MINIM) return false
  return m.divisions[level - 1] === 3
}

function letsDouble({ level }: Token, next: Token): boolean {
  return next.level === level - 1 ? next.tempora !== 2 : next.level < level - 1 && level === BREVE
}

function shortChance({ level, rest }: Token, next: Token | undefined, m: Measure): number {
  if (rest || level >= MINIM || m.divisions[level] !== 3) return 0
  return next !== undefined && next.level > level ? LENGTH.short : 1 - LENGTH.likeWhole
}

function anteChance({ level }: Token, next: Token | undefined): number {
  if (next === undefined || next.level !== level) return LENGTH.ante
  return level === 1 ? LENGTH.anteBeforeLikeAtModus : LENGTH.anteBeforeLike
}

function partsOf({ level, rest }: Token, next: Token, m: Measure): Future["parts"] {
  if (rest || next.level <= level + 1) return NO_PARTS
  const k = next.level - 1
  if (k >= MINIM || m.divisions[k] !== 3) return NO_PARTS
  return LENGTH.parts.map((chance, units) => [(units + 1) * m.full[k + 1]!, chance] as const)
}
