export { writeMidi } from "./write.js"
