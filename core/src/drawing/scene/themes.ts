/** Colours by role. Contrast of each was reckoned (WCAG 2) on the ground and on the alternate ground. */
import type { Role } from "./scene.js"

export interface Theme {
  readonly name: string
  /** False: no ground is painted, and a mark in the colour of the ground is left out. */
  readonly painted: boolean
  readonly colours: Readonly<Record<Role, string>>
  /** Areas that let the ground of a slide through; on white or black they look as `colours` says. */
  readonly glazes?: Readonly<Partial<Record<Role, Glaze>>>
}

export interface Glaze {
  readonly colour: string
  readonly opacity: number
}

type Row = readonly [
  ground: string,
  alternate: string,
  ink: string,
  second: string,
  red: string,
  blue: string,
  clayEdge: string,
  clayFill: string,
  staff: string,
]

function theme(name: string, painted: boolean, row: Row): Theme {
  const [ground, alternate, ink, second, red, blue, clayEdge, clayFill, staff] = row
  return { name, painted, colours: { ground, alternate, ink, second, red, blue, clayEdge, clayFill, staff } }
}

const LIGHT: Row = ["#FBF7EE", "#ECE1CA", "#1C1814", "#574D42", "#AE2A19", "#1D4E8F", "#6E6048", "#E0D2B6", "#877A68"]
const DARK: Row = ["#171410", "#2B251D", "#F4EDDF", "#BDB2A0", "#FF8E76", "#8FBDF5", "#A89A80", "#453C2F", "#7C7263"]
const WHITE: Row = ["#FFFFFF", "#EAE0CC", "#120F0C", "#4A4138", "#9C2014", "#164686", "#665840", "#DCCDB0", "#8A7D6B"]
const BLACK: Row = ["#000000", "#1E1A14", "#FFF9EC", "#CFC4B1", "#FF9A84", "#9CC7FA", "#B9AA8C", "#4A4030", "#8A7F6E"]

/** In the order in which they are offered. The transparent ones are for slides whose ground is light or dark. */
export const THEMES: readonly Theme[] = [
  theme("light", true, LIGHT),
  theme("dark", true, DARK),
  theme("lecture-white", true, WHITE),
  theme("lecture-black", true, BLACK),
  { ...theme("transparent-light", false, WHITE), glazes: { alternate: { colour: "#AB8333", opacity: 0.25 } } },
  { ...theme("transparent-dark", false, BLACK), glazes: { alternate: { colour: "#FAD9A7", opacity: 0.12 } } },
]

/** The theme of this name, or undefined. */
export const themeNamed = (name: string): Theme | undefined => THEMES.find(one => one.name === name)
export const LIGHT_THEME = THEMES[0]!

/** What the colours are called in a style sheet: "--ink", "--clay-edge". */
export const STYLE_NAMES: Readonly<Record<Role, string>> = {
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

/** For drawings that are shown in a page: its style sheet says what the colours are, so that dark and light are a matter of that. */
export const SHOWN_THEME: Theme = {
  name: "shown",
  painted: true,
  colours: Object.fromEntries(
    Object.entries(STYLE_NAMES).map(([role, name]) => [role, `var(--${name})`]),
  ) as Theme["colours"],
}
