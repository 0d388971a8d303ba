/** Options of a practice and their values, as they are told. */
import { optionValueTold, type OptionSpec } from "@resolutio/core"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.practice

export const optionMeaning = ({ meaning }: OptionSpec): string => meaning.charAt(0).toUpperCase() + meaning.slice(1)

/** "by threes"; the usual one says so. */
export function valueWords({ default: usual }: Pick<OptionSpec, "default">, value: string): string {
  const plain = value === "true" ? said.yes : value === "false" ? said.no : value.replaceAll("-", " ")
  return value === usual ? said.usual(plain) : plain
}

/** What a value means, as a sentence, and who says so. */
export function valueTold({ name }: Pick<OptionSpec, "name">, value: string): { meaning: string; source: string } {
  const { meaning, source } = optionValueTold(name, value) ?? { meaning: "", source: "" }
  return { meaning: meaning === "" ? "" : `${meaning.charAt(0).toUpperCase()}${meaning.slice(1)}.`, source }
}
