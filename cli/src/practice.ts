/** `--practice NAME[:option=value,…]` and its checks. */
import { PRACTICES, practiceNamed, settingsOf, type Problem, type Result } from "@resolutio/core"
import { either } from "./messages.js"

export interface PracticeWish {
  readonly name: string
  /** Only those named; the rest are the practice's own. */
  readonly options: Readonly<Record<string, string>>
}

/** Reads the option's text; unknown names and values are refused with the list of those that are known. */
export function parsePractice(text: string): Result<PracticeWish> {
  const [name = "", ...rest] = text.split(":")
  const practice = practiceNamed(name)
  if (!practice) {
    const known = either(PRACTICES.map(one => one.name))
    return refuse(`There is no practice “${name}”.`, `Name one of these: ${known}.`)
  }
  const pairs = rest
    .join(":")
    .split(",")
    .filter(pair => pair.trim() !== "")
  const wrong = pairs.find(pair => !/^[^=]+=[^=]+$/.test(pair))
  if (wrong !== undefined)
    return refuse(
      `“${wrong.trim()}” is no option.`,
      `Write option=value, as in ${practice.name}:${example(practice.options[0])}.`,
    )
  const options = Object.fromEntries(pairs.map(pair => pair.split("=").map(part => part.trim())))
  const settings = settingsOf(practice, options)
  return settings.ok ? { ok: true, value: { name: practice.name, options }, problems: [] } : settings
}

const example = (option: { readonly name: string; readonly default: string } | undefined) =>
  option ? `${option.name}=${option.default}` : "option=value"

function refuse(what: string, mend: string): Result<PracticeWish> {
  const problem: Problem = { code: "unknown-practice", what, where: { place: "--practice" }, mend, severity: "error" }
  return { ok: false, problems: [problem] }
}
