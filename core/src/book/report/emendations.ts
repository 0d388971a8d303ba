/** Lines of the report that the file itself holds: other readings, what was supplied, corrected, or is hard to read. */
import type { SignId } from "../../base/index.js"
import type { Alternative, Editorial, Page, Sign } from "../../page/index.js"
import { hasWords, signsInWords, withoutWords } from "../sign-words.js"
import type { LevelOf, ReportEntry, ReportKind } from "./types.js"

export interface Drafted {
  readonly signs: readonly SignId[]
  readonly entry: Omit<ReportEntry, "bar" | "voice" | "number" | "place" | "sign">
  /** Of a line that no sign of the page stands for. */
  readonly voice?: string
}

/** Readings beside the chosen one, then hands on signs that no such reading speaks of. */
export function fileLines(page: Page, levelOf: LevelOf): Drafted[] {
  const chosen = signsById(page)
  const spoken = new Set<SignId>()
  const readings = grouped(page.alternatives).map(group => {
    for (const id of group[0]!.insteadOf) spoken.add(id)
    return alternativeLine(page, group, chosen, levelOf)
  })
  return [...readings, ...handLines(page, spoken, levelOf)]
}

function signsById(page: Page): Map<SignId, Sign> {
  const signs = new Map<SignId, Sign>()
  for (const voice of page.voices)
    for (const sign of voice.signs) {
      signs.set(sign.id, sign)
      if (sign.kind === "ligature") for (const member of sign.members) signs.set(member.id, member)
    }
  return signs
}

/** Those for the same signs together. */
function grouped(alternatives: readonly Alternative[]): Alternative[][] {
  const groups = new Map<string, Alternative[]>()
  for (const one of alternatives) {
    const key = one.insteadOf.length > 0 ? JSON.stringify(one.insteadOf) : one.id
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups.values()]
}

function alternativeLine(
  page: Page,
  group: readonly Alternative[],
  chosen: ReadonlyMap<SignId, Sign>,
  levelOf: LevelOf,
): Drafted {
  const [first] = group as [Alternative]
  const aboutWords = group.some(one => one.signs.some(hasWords))
  const found = first.insteadOf.flatMap(id => chosen.get(id) ?? [])
  const here = aboutWords ? found : found.map(withoutWords)
  const hand = here.find(sign => sign.editorial)?.editorial
  const sic = group.find(one => one.what === "sic")
  const others = group.filter(one => one !== sic)
  const told = others.map(one => `${alternativeName(page, one)}: ${signsInWords(one.signs, levelOf)}`)
  const kind: ReportKind = sic ? "emendation" : "reading"
  const voice = page.voices.find(one => one.id === first.voice)
  return {
    signs: first.insteadOf,
    ...(voice ? { voice: voice.label || voice.n } : {}),
    entry: {
      kind,
      source: sic ? signsInWords(sic.signs, levelOf) : told.join("; "),
      edition: signsInWords(here, levelOf) + (hand?.source ? ` (${nameIn(page, hand.source)})` : ""),
      why: [hand?.reason ?? "", certainty(hand), sic && told.length > 0 ? `Also ${told.join("; ")}.` : ""]
        .filter(Boolean)
        .join(" "),
      who: hand?.resp === undefined ? "" : nameIn(page, hand.resp),
    },
  }
}

const ALTERNATIVES: Readonly<Record<Alternative["what"], string>> = {
  sic: "the source",
  rdg: "another reading",
  orig: "as written",
  corr: "corrected",
  reg: "regularised",
  lem: "the preferred reading",
}
const alternativeName = (page: Page, { what, editorial }: Alternative): string =>
  editorial.source ? nameIn(page, editorial.source) : ALTERNATIVES[what]

/** The name of a person or source; several ids stand one after another. */
function nameIn({ people = {} }: Page, ids: string): string {
  return ids
    .split(/\s+/)
    .filter(Boolean)
    .map(id => people[id] || id)
    .join(", ")
}

const certainty = (hand: Editorial | undefined): string => (hand?.cert === undefined ? "" : `(certainty: ${hand.cert})`)

/** Signs one after another under the same hand are one line. */
function handLines(page: Page, spoken: ReadonlySet<SignId>, levelOf: LevelOf): Drafted[] {
  return page.voices.flatMap(voice => {
    const runs: Sign[][] = []
    let before: string | undefined
    for (const sign of handled(voice.signs)) {
      const own = sign.editorial && !spoken.has(sign.id) ? JSON.stringify(sign.editorial) : undefined
      if (own !== undefined && own === before) runs.at(-1)!.push(sign)
      else if (own !== undefined) runs.push([sign])
      before = own
    }
    return runs.flatMap(run => handLine(page, run, levelOf))
  })
}

/** A ligature as a whole where it shows a hand itself, else its notes. */
const handled = (signs: readonly Sign[]): Sign[] =>
  signs.flatMap((sign): Sign[] => (sign.kind === "ligature" && !sign.editorial ? [...sign.members] : [sign]))

function handLine(page: Page, run: readonly Sign[], levelOf: LevelOf): Drafted[] {
  const hand = run[0]!.editorial!
  const words = signsInWords(run.map(withoutWords), levelOf)
  const line = handWords(hand, words)
  if (!line) return []
  const why = [hand.reason ?? "", certainty(hand)].filter(Boolean).join(" ")
  const by = hand.resp ?? hand.source
  return [{ signs: run.map(sign => sign.id), entry: { ...line, why, who: by === undefined ? "" : nameIn(page, by) } }]
}

function handWords(hand: Editorial, words: string): Pick<ReportEntry, "kind" | "source" | "edition"> | undefined {
  switch (hand.kind) {
    case "supplied":
      return { kind: "supplied", source: "nothing", edition: words }
    case "unclear":
      return { kind: "unclear", source: "hard to read", edition: words }
    case "corr":
      return { kind: "emendation", source: "something else, which the file does not tell", edition: words }
    case "add":
      return { kind: "reading", source: "added there by another hand", edition: words }
    case "reg":
      return { kind: "reading", source: "another form, which the file does not tell", edition: words }
    default:
      return undefined
  }
}
