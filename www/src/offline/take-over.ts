/** What the page tells the worker of a newer build once the person wants it. A type alone: the worker is one script. */
export type TakeOver = 'take over';
