import type { OptionSpec } from "./types.js"

/** An option; `values` are parted by spaces, the first is the default unless `byDefault` names another. */
export const option = (
  name: string,
  values: string,
  meaning: string,
  source: string,
  byDefault?: string,
): OptionSpec => {
  const all = values.split(" ")
  return { name, values: all, default: byDefault ?? all[0]!, meaning, source }
}
