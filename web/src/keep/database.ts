/**
 * Pieces in the browser's own database. A step is one small record, so it is written the moment it is made. Every write
 * first looks whether the piece still is as the writer believes it to be.
 */
import { deleteDB, openDB, type DBSchema, type IDBPDatabase } from "idb"
import type { Base, KeptPicture, KeptPiece, PieceRecord, Step } from "./types.js"

interface Schema extends DBSchema {
  pieces: { key: string; value: PieceRecord }
  bases: { key: string; value: Base }
  steps: { key: [string, number]; value: Step & { readonly piece: string; readonly n: number } }
  pictures: { key: [string, string]; value: KeptPicture }
}
const STORES = ["pieces", "bases", "steps"] as const

/** Somebody else has written to the piece since it was read. */
export class Overtaken extends Error {}
/** The piece is not there (any more). */
export class Gone extends Error {}

/** Writes have to be there when the window is closed right after them. */
const DURABLE = { durability: "strict" } as const

export class Database {
  #opened: Promise<IDBPDatabase<Schema>> | undefined

  constructor(readonly name = "resolutio") {}

  #db(): Promise<IDBPDatabase<Schema>> {
    return (this.#opened ??= openDB<Schema>(this.name, 2, {
      upgrade(db, from) {
        if (from < 1) {
          db.createObjectStore("pieces", { keyPath: "id" })
          db.createObjectStore("bases", { keyPath: "id" })
          db.createObjectStore("steps", { keyPath: ["piece", "n"] })
        }
        db.createObjectStore("pictures", { keyPath: ["piece", "surface"] })
      },
      blocking: () => void this.close(),
    }))
  }

  async close(): Promise<void> {
    const opened = this.#opened
    this.#opened = undefined
    ;(await opened)?.close()
  }

  /** For tests. */
  async destroy(): Promise<void> {
    await this.close()
    await deleteDB(this.name)
  }

  /** The last opened first. */
  async list(): Promise<PieceRecord[]> {
    const all = await (await this.#db()).getAll("pieces")
    return all.sort((a, b) => b.opened - a.opened)
  }

  /** The piece with all its steps, whatever was there. */
  async replace({ record, base, steps }: KeptPiece): Promise<void> {
    const change = (await this.#db()).transaction(STORES, "readwrite", DURABLE)
    const kept = change.objectStore("steps")
    await Promise.all([
      kept.delete(stepsOf(record.id)),
      ...steps.map((step, i) => kept.put({ ...step, piece: record.id, n: record.first + i + 1 })),
      change.objectStore("bases").put(base),
      change.objectStore("pieces").put(record),
      change.done,
    ])
  }

  async read(id: string): Promise<KeptPiece | undefined> {
    const look = (await this.#db()).transaction(STORES)
    const [record, base, steps] = await Promise.all([
      look.objectStore("pieces").get(id),
      look.objectStore("bases").get(id),
      look.objectStore("steps").getAll(stepsOf(id)),
    ])
    return record && base && { record, base, steps: steps.map(plainStep) }
  }

  /** Writes the record, a step at `record.at`, and takes away what could have been done again after it. */
  async step(record: PieceRecord, step: Step): Promise<void> {
    const change = (await this.#db()).transaction(["pieces", "steps"], "readwrite", DURABLE)
    await this.#seen(change, record)
    const steps = change.objectStore("steps")
    await Promise.all([
      steps.delete(stepsOf(record.id, record.at + 1)),
      steps.put({ ...step, piece: record.id, n: record.at }),
      change.objectStore("pieces").put(record),
      change.done,
    ])
  }

  /** Writes the record alone: the piece was opened, or a step was undone or done again. */
  async note(record: PieceRecord): Promise<void> {
    const change = (await this.#db()).transaction("pieces", "readwrite", DURABLE)
    await this.#seen(change, record)
    await Promise.all([change.store.put(record), change.done])
  }

  /** The page after `record.first` steps becomes the base; the steps before it are let go. */
  async rebase(record: PieceRecord, base: Base): Promise<void> {
    const change = (await this.#db()).transaction(STORES, "readwrite", DURABLE)
    await this.#seen(change, record)
    await Promise.all([
      change.objectStore("steps").delete(IDBKeyRange.bound([record.id, 0], [record.id, record.first])),
      change.objectStore("bases").put(base),
      change.objectStore("pieces").put(record),
      change.done,
    ])
  }

  /** The picture of a surface, whatever was there. */
  async keepPicture(kept: KeptPicture): Promise<void> {
    const change = (await this.#db()).transaction("pictures", "readwrite", DURABLE)
    await Promise.all([change.store.put(kept), change.done])
  }

  async picture(piece: string, surface: string): Promise<Blob | undefined> {
    return (await (await this.#db()).get("pictures", [piece, surface]))?.picture
  }

  async remove(id: string): Promise<void> {
    const change = (await this.#db()).transaction([...STORES, "pictures"] as const, "readwrite", DURABLE)
    await Promise.all([
      change.objectStore("pictures").delete(IDBKeyRange.bound([id, ""], [id, "\uffff"])),
      change.objectStore("pieces").delete(id),
      change.objectStore("bases").delete(id),
      change.objectStore("steps").delete(stepsOf(id)),
      change.done,
    ])
  }

  async #seen(
    change: {
      objectStore(name: "pieces"): { get(id: string): Promise<PieceRecord | undefined> }
      abort(): void
      readonly done: Promise<void>
    },
    { id, revision }: PieceRecord,
  ): Promise<void> {
    const now = await change.objectStore("pieces").get(id)
    if (now && now.revision === revision - 1) return
    change.done.catch(() => undefined)
    change.abort()
    throw now ? new Overtaken(id) : new Gone(id)
  }
}

const stepsOf = (id: string, from = 0): IDBKeyRange => IDBKeyRange.bound([id, from], [id, Infinity])
const plainStep = ({ change, undo, words, stamp, gesture }: Step): Step => ({
  change,
  undo,
  words,
  stamp,
  ...(gesture === undefined ? {} : { gesture }),
})
