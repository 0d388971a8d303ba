export { musicXmlCannotCarry } from "./losses.js"
export { writeMusicXml } from "./write.js"
