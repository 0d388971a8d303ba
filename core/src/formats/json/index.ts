export { READING_FORMAT, READING_VERSION, readingJson, unreadableJson } from "./reading.js"
