export {
  placesIn,
  signAt,
  signBoxes,
  staffPointAt,
  type LinePlace,
  type ScenePlaces,
  type SignPlaces,
  type StaffPoint,
} from "./places.js"
export { cartouchesOver, cartouchesRound, wedgesOver } from "./over.js"
