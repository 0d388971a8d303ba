export { readMei, type MeiDocument } from "./document.js"
export { newMei } from "./write/page.js"
