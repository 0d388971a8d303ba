export { barNumber, partId, plicaId, scoreId } from "./ids.js"
export { modernMeiCannotCarry } from "./losses.js"
export { goesOnOver, modernMei, type MeiLayout } from "./write.js"
