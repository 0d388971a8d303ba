export * from "./signs.js"
export * from "./walk.js"
