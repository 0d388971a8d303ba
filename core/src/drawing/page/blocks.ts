/** What a sheet is made of. */
import type { Voice } from "../../page/index.js"
import type { Box, Group, Role } from "../scene/scene.js"
import type { PageOptions } from "./options.js"

/** Something as wide as the page, set under what is above it. */
export interface Block {
  readonly item: Group
  /** Of the item, y from its own zero. */
  readonly box: Box
  /** Free above it, when something is above it on the same sheet. */
  readonly space: number
  /** Does not stand at the foot of a sheet by itself. */
  readonly withNext?: boolean
}

/** What was asked for, else what the source has, else a grey that lets the signs come forward. */
export function staffRole({ staffColour }: Voice, { staff }: PageOptions): Role {
  const wanted = staff ?? (staffColour === "red" || staffColour === "black" ? staffColour : "grey")
  return wanted === "red" ? "red" : wanted === "black" ? "ink" : "staff"
}
