/** Keeps what was last put in under a key, up to so many keys; the key put in first is forgotten first. */
export class Recent<Key, Value> {
	readonly #most: number;
	readonly #kept = new Map<Key, Value>();

	constructor(most: number) {
		this.#most = most;
	}

	get(key: Key): Value | undefined {
		return this.#kept.get(key);
	}

	set(key: Key, value: Value): void {
		this.#kept.delete(key);
		this.#kept.set(key, value);
		for (const oldest of this.#kept.keys()) {
			if (this.#kept.size <= this.#most) return;
			this.#kept.delete(oldest);
		}
	}

	delete(key: Key): void {
		this.#kept.delete(key);
	}
}
