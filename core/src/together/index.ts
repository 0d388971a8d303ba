export { readTogether, type Together } from "./read-together.js"
export * from "./tenor/index.js"
export * from "./mensuration/index.js"
export * from "./emend/index.js"
