/** Options that a whole piece has in common: what one voice shows holds for those that show nothing. */
import { flatSigns, type Page } from "../page/index.js"
import type { Settings } from "../practices/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import { choosePractice, minimsShown, type ReadOptions } from "../reading/settings.js"

/**
 * Whether minims are drawn, and into how many a breve is cut, as far as it is left to be inferred. A piece is written in
 * one manner: one voice with stems on its minims, or with four and more to a breve, speaks for all (common practice).
 */
export function sharedOptions(page: Page, options: ReadOptions): Settings {
  const shared: Record<string, string> = {}
  for (const voice of page.voices) {
    const flat = flatSigns(voice)
    const { inferred, settings } = choosePractice(voice, flat, options)
    if (inferred.has("breveDivision") && settings["breveDivision"] !== "two-or-three")
      shared["breveDivision"] = settings["breveDivision"]!
    if (!inferred.has("minims")) continue
    const shown = minimsShown(voice, flat)
    if (shown !== undefined && shared["minims"] !== "written") shared["minims"] = shown
  }
  return shared
}

/** The values that inferred options have in a reading. */
export function sharedOf(worked: readonly WorkedVoice[]): Settings {
  const shared: Record<string, string> = {}
  for (const { chosen } of worked) for (const name of chosen.inferred) shared[name] = chosen.settings[name]!
  return shared
}

const OTHERS: Readonly<Record<string, readonly string[]>> = {
  breveDivision: ["two-or-three", "equal"],
  minims: ["written", "unwritten"],
}

/** Other values that the inferred options of a reading could have had, but for what the signs of a voice show. */
export function otherOptions(worked: readonly WorkedVoice[]): Settings[] {
  const shared = sharedOf(worked)
  const minims = shared["minims"]
  const isShown = minims !== undefined && worked.some(({ voice }) => minimsShown(voice, flatSigns(voice)) === minims)
  return Object.keys(shared).flatMap(name =>
    (name === "minims" && isShown ? [] : (OTHERS[name] ?? []))
      .filter(value => value !== shared[name])
      .map(value => ({ ...shared, [name]: value })),
  )
}
