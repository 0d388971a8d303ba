import type { Sounding } from "./messages.js"

/** Where on the axis the sound is; for whoever wants no motion, where the last sign began. */
export function momentOf(sounding: readonly Sounding[], now: number): number | undefined {
  const last = sounding.at(-1)
  if (!last) return undefined
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) return Math.max(...sounding.map(({ onset }) => onset))
  return last.onset + ((now - last.start) / (last.end - last.start)) * (last.until - last.onset)
}
