/** Options that several commands have alike. */
import { Option } from "commander"

/** Is told the exit status. */
export type Done = (status: number) => void

export const format = (more?: string, forWhat?: string) =>
  new Option("--format <name>", `text for people, json for programs${more ? `, ${more} ${forWhat}` : ""}`)
    .choices(["text", "json", ...(more ? [more] : [])])
    .default("text")

/** An option that may be given several times; the help says what holds without it. */
export const repeated = (flag: string, description: string, without: string): Option =>
  new Option(flag, `${description} (may be repeated)`)
    .argParser((one: string, all: string[]) => [...all, one])
    .default([], without)

export const repeats = () =>
  new Option(
    "--repeats <how>",
    "repeats, endings and refrains as signs, or written out; with stanzas one after another too",
  )
    .choices(["signs", "written", "stanzas"])
    .default("signs")

/** An option with a few values; the first is the default unless another is named. */
export const oneOf = (flag: string, description: string, names: readonly string[], usual = names[0]): Option =>
  new Option(flag, description).choices(names).default(usual)
