export { readMei, type MeiDocument } from "./document.js"
