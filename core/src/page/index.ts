export * from "./signs.js"
export * from "./walk.js"
export * from "./places.js"
