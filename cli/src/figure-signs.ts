/** Signs of mensuration for trees and tables: as they are written, or as the numbers into which levels divide. */
import type { Result } from "@resolutio/core"
import type { FigureFlags } from "./figure.js"

/** Undefined where none are named. */
export function signsFor({
  signs,
  levels,
}: Pick<FigureFlags, "signs" | "levels">): Result<readonly string[] | undefined> {
  const written = signs === undefined ? [] : signs.split(/\s+/).filter(one => one !== "")
  const numbers = levels === undefined ? [] : levels.split(/[,;]/).map(one => one.trim().split(/[\s×x]+/))
  const bad = numbers.find(one => one.length < 2 || one.length > 4 || one.some(n => n !== "2" && n !== "3"))
  if (bad)
    return {
      ok: false,
      problems: [
        {
          code: "bad-levels",
          what: `“${bad.join(" ")}” does not say how levels divide.`,
          where: { place: "--levels" },
          mend: "Write 2 or 3 for each level, the prolation last: “3 2” (tempus, prolation), “2 3 2” (with the modus), “3 2 3 2” (with both modi).",
          severity: "error",
        },
      ],
    }
  const all = [...written, ...numbers.map(inShorthand)]
  return { ok: true, value: all.length > 0 ? all : undefined, problems: [] }
}

const NAMES = ["modusmaior", "modus", "tempus", "prolatio"]

/** "3 2" as "mens:tempus=3:prolatio=2". */
const inShorthand = (numbers: readonly string[]): string =>
  ["mens", ...NAMES.slice(NAMES.length - numbers.length).map((name, i) => `${name}=${numbers[i]}`)].join(":")
