/** Where in a text a sign was read: for an editor whose cursor is to find it. No part of the sign, since the same sign can be typed elsewhere. */
import type { Sign } from "../signs.js"

const places = new WeakMap<Sign, number>()

export const notePlace = (sign: Sign, at: number): void => void places.set(sign, at)

/** Offset in the text at which this very sign was read; undefined for a sign that comes from elsewhere. */
export const placeInText = (sign: Sign): number | undefined => places.get(sign)
