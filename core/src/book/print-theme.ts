/** Black on whatever the paper is. */
import { themeNamed, type Theme } from "../drawing/index.js"

const white = themeNamed("transparent-light")!
export const PRINT_THEME: Theme = { ...white, name: "print", colours: { ...white.colours, ink: "#000" } }
