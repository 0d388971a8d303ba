export * from "./ids.js"
export * from "./problem.js"
export * from "./rational.js"
export * from "./timeline.js"
