/** Options of a practice and their values, as they are told. */
import { optionValueTold, type OptionSpec } from "@resolutio/core"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.practice

export const optionMeaning = ({ meaning }: OptionSpec): string => meaning.charAt(0).toUpperCase() + meaning.slice(1)

/** A value as a person says it: "by threes", "as of c. 1275" for what a treatise of that time has. */
export function plainValue(value: string): string {
  if (value === "true") return said.yes
  if (value === "false") return said.no
  const [, about, year] = /^[a-z]+-(c?)(\d{4})$/.exec(value) ?? []
  if (year !== undefined) return said.asOf(about === "" ? year : `c. ${year}`)
  return value.replaceAll("-", " ").replace(/(?<=[a-z])[A-Z]/g, letter => ` ${letter.toLowerCase()}`)
}

/** "by threes"; the usual one says so. */
export function valueWords({ default: usual }: Pick<OptionSpec, "default">, value: string): string {
  const plain = plainValue(value)
  return value === usual ? said.usual(plain) : plain
}

/** What a value means, as a sentence, and who says so. */
export function valueTold({ name }: Pick<OptionSpec, "name">, value: string): { meaning: string; source: string } {
  const { meaning, source } = optionValueTold(name, value) ?? { meaning: "", source: "" }
  return { meaning: meaning === "" ? "" : `${meaning.charAt(0).toUpperCase()}${meaning.slice(1)}.`, source }
}
