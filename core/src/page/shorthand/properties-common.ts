/** Properties that signs of several kinds share. */
import type { Coloration, Editorial, Given, Sign } from "../signs.js"
import { choice, composed, rawRecord, record, textual, writeRecord, type Property } from "./property.js"
import { inBrackets, LARGEST, pair, readWhole, type Term } from "./tokens.js"

export const COLORATIONS: Record<string, Coloration> = {
  none: "none",
  red: "red",
  "red-void": "red-void",
  void: "void",
  black: "black",
  other: "other",
  "half-left": "half-left",
  "half-right": "half-right",
  "half-top": "half-top",
  "half-bottom": "half-bottom",
}
/** Coloration is written by the printer of spans, which knows what is in force: here it is only read. */
export const coloration = <S extends { readonly coloration: Coloration }>(): Property<S> => ({
  ...choice<S, "coloration">("coloration", COLORATIONS as Record<string, S["coloration"]>),
  write: () => "",
})

export const EDITORIAL_KINDS = ["supplied", "unclear", "corr", "lem", "rdg", "reg", "add"] as const
const EDITORIAL_PARTS = ["resp", "cert", "reason", "source"] as const

/** `supplied(resp=ed reason="worn")`, also in the line of an alternative. */
export function readEditorial(term: Term): Editorial | undefined {
  const kind = EDITORIAL_KINDS.find(one => one === term.name)
  const parts = record(term.args ?? [])
  if (
    !kind ||
    !parts ||
    Object.values(parts).includes("") ||
    Object.keys(parts).some(name => !EDITORIAL_PARTS.includes(name as never))
  )
    return undefined
  return { kind, ...parts }
}
export function writeEditorial(editorial: Editorial): string {
  const parts = EDITORIAL_PARTS.flatMap(name => (editorial[name] === undefined ? [] : [pair(name, editorial[name])]))
  return editorial.kind + inBrackets(parts)
}
const editorial: Property<Sign> = {
  kind: "flag",
  names: EDITORIAL_KINDS,
  form: ":supplied(resp=… cert=… reason=… source=…)",
  read: term => {
    const found = term.value === undefined ? readEditorial(term) : undefined
    return found && { editorial: found }
  },
  write: sign => (sign.editorial ? `:${writeEditorial(sign.editorial)}` : ""),
}

/** What any sign may have. The id is seen to by the builder and the printer, who know which one is expected. */
export const COMMON: readonly Property<Sign>[] = [
  textual<Sign>("id"),
  textual<Sign>("zone"),
  editorial,
  composed<Sign>("extra", "extra", rawRecord, writeRecord),
].map(one => (one.names[0] === "id" ? { ...one, write: () => "" } : one))

const QUALITIES = ["perfecta", "imperfecta", "altera", "minor", "maior"] as const
export const given = <S extends { readonly given?: Given }>(): Property<S> =>
  composed<S>("given", "given", readGiven, ({ quality, num, numbase }: Given) => [
    ...(quality ? [quality] : []),
    ...(num === undefined ? [] : [pair("num", num)]),
    ...(numbase === undefined ? [] : [pair("numbase", numbase)]),
  ])
function readGiven(args: readonly Term[]): Given | undefined {
  let found: Given = {}
  for (const { name, value } of args) {
    const quality = QUALITIES.find(one => one === name)
    const number = readWhole(value, 1, LARGEST)
    if (quality && value === undefined) found = { ...found, quality }
    else if ((name === "num" || name === "numbase") && number !== undefined) found = { ...found, [name]: number }
    else return undefined
  }
  return args.length > 0 ? found : undefined
}
export const near = <S extends { readonly near?: "previous" | "next" }>(): Property<S> => ({
  kind: "flag",
  names: ["near"],
  form: ":near=previous or :near=next",
  read: ({ value }) => (value === "previous" || value === "next" ? ({ near: value } as Partial<S>) : undefined),
  write: sign => (sign.near ? `:near=${sign.near}` : ""),
})
/**
 * Whether it stands in the definition of the voice. Signs before the first other one do unless `:within` is said;
 * the builder and the printer see to that.
 */
export const initial = <S extends { readonly initial?: boolean }>(): Property<S> => ({
  kind: "flag",
  names: ["initial", "within"],
  form: ":initial or :within",
  read: ({ name, value }) => (value === undefined ? ({ initial: name === "initial" } as Partial<S>) : undefined),
  write: () => "",
})
