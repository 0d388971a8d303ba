export * from "./signs.js"
