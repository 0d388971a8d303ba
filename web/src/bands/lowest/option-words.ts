/** Options of a practice and their values, as they are told. */
import type { OptionSpec } from "@resolutio/core"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.practice

export const optionMeaning = ({ meaning }: OptionSpec): string => meaning.charAt(0).toUpperCase() + meaning.slice(1)

/** "by threes"; the usual one says so. */
export function valueWords({ default: usual }: Pick<OptionSpec, "default">, value: string): string {
  const plain = value === "true" ? said.yes : value === "false" ? said.no : value.replaceAll("-", " ")
  return value === usual ? said.usual(plain) : plain
}
