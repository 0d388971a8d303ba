/** Where signs of a reading stand, as a person would type it. */
import type { Reading } from "../reading/index.js"

/**
 * Beside each sign of a voice: "triplum 12" for notes and rests; for what does not last,
 * "triplum, after 12".
 */
export function placesOf({ label, signs }: Reading): string[] {
  let number = 0
  return signs.map(sign => {
    if (sign.number > 0) number = sign.number
    return sign.number > 0 ? `${label} ${number}` : number > 0 ? `${label}, after ${number}` : `${label}, before 1`
  })
}
