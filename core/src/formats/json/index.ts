export { READING_FORMAT, READING_VERSION, readingJson, unreadableJson } from "./reading.js"
export { TENOR_FORMAT, TENOR_VERSION, tenorJson, unreadableTenorJson } from "./tenor.js"
export { mensurationJson, unreadableMensurationJson } from "./mensuration.js"
export { FIT_FORMAT, FIT_VERSION, fitJson, unreadableFitJson } from "./fit.js"
