export { musicXmlCannotCarry } from "./losses.js"
export { writeMusicXml, type MusicXmlOptions } from "./write.js"
