export { parseShorthand } from "./parse.js"
export { placeInText } from "./places.js"
export { printShorthand } from "./print.js"
export { readDecided } from "./decided-text.js"
/** The grammar alone (Lezer), for an editor that colours the text; it knows no problems. */
export { parser as shorthandParser } from "./parser.generated.js"
