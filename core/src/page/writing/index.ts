export { changeTo } from "./difference.js"
export { writingText } from "./text.js"
