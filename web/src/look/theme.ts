/** Colours of drawings that are shown: names of the window's own colours, so that dark and light are a matter of the style sheet. */
import type { Role, Theme } from "@resolutio/core"

const NAMES: Readonly<Record<Role, string>> = {
  ground: "ground",
  alternate: "alternate",
  ink: "ink",
  second: "second",
  red: "red",
  blue: "blue",
  clayEdge: "clay-edge",
  clayFill: "clay-fill",
  staff: "staff",
}

export const SHOWN: Theme = {
  name: "shown",
  painted: true,
  colours: Object.fromEntries(
    Object.entries(NAMES).map(([role, name]) => [role, `var(--${name})`]),
  ) as Theme["colours"],
}
