export * from "./signs.js"
export * from "./walk.js"
export * from "./places.js"
export * from "./shorthand/index.js"
