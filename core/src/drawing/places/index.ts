export {
  placesIn,
  signAt,
  staffPointAt,
  type LinePlace,
  type ScenePlaces,
  type SignPlaces,
  type StaffPoint,
} from "./places.js"
export { cartouchesOver, wedgesOver } from "./over.js"
