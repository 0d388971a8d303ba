/** The sources rules cite, by short names. Titles and dates only. */
import type { Source } from "./types.js"

const from =
  (treatise: string) =>
  (place: string, mark: Source["mark"] = "read"): Source => ({ treatise, place, mark })

export const arsCantus1280 = from("Ars cantus mensurabilis, c. 1280")
export const tractatus1275 = from("Tractatus de musica, c. 1275")
export const discantus1250 = from("De mensurabili musica, c. 1240-60")
export const mensurata1279 = from("De musica mensurata, 1279")
export const compendia1290 = from("Gaudent brevitate moderni, compendia c. 1290")
export const summa1300 = from("Summa de speculatione musicae, c. 1300")
export const regule1326 = from("Regule cum maximis, 1326")
export const speculum1325 = from("Speculum musicae, c. 1325")
export const pomerium1318 = from("Pomerium, 1318-19")
export const arsNova1320 = from("Ars nova, c. 1320")
export const libellus1340 = from("Libellus cantus mensurabilis, c. 1340")
export const modosIuris = from("Ars cantus mensurabilis mensurata per modos iuris, late 14th c.")
export const figurarum = from("Tractatus figurarum, late 14th c.")
export const practice1408 = from("Tractatus practice de musica mensurabili, 1408")
export const practice1412 = from("Tractatus practice cantus mensurabilis ad modum Ytalicorum, revised 1412")
export const imperfectionum1470 = from("Liber imperfectionum notarum musicalium, 1470s")
export const alterationum1470 = from("Tractatus alterationum, 1470s")
export const punctis1470 = from("Tractatus super punctis musicalibus, 1470s")
export const valore1470 = from("Tractatus de regulari valore notarum, 1470s")
export const notisPausis1470 = from("Tractatus de notis et pausis, 1470s")
export const proportionale1470 = from("Proportionale musices, 1470s")
export const compendium1490 = from("Compendium cantus figurati, 1490")
export const practica1496 = from("Practica musicae, 1496")
export const arteCanendi1540 = from("De arte canendi, 1540")
export const dodecachordon1547 = from("Dodecachordon, 1547")
export const editors = from("Common practice of editors of motets, c. 1300-1370, counted")
export const handbook = from("Common practice, handbooks of the last century")
