/** A block of real numbers that may be transferred to a worker (never backed by shared memory). */
export type Reals = Float64Array<ArrayBuffer>;
