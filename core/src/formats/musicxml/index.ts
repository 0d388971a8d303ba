export { writeMusicXml, type MusicXmlOptions } from "./write.js"
