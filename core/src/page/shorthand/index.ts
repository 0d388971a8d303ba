export { parseShorthand } from "./parse.js"
export { printShorthand } from "./print.js"
