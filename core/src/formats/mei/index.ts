export { readMei, withPage, type MeiDocument } from "./document.js"
export { newMei } from "./write/page.js"
export { writeMei } from "./write.js"
export { NO_HEAD, meiHead, type MeiHead } from "./head.js"
