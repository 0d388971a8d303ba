export { midiCannotCarry } from "./losses.js"
export { writeMidi } from "./write.js"
