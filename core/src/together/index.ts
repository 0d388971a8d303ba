export { readTogether, type Together } from "./read-together.js"
