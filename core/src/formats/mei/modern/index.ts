export { partId, plicaId, scoreId } from "./ids.js"
export { modernMeiCannotCarry } from "./losses.js"
export { modernMei } from "./write.js"
