import { MOST_WORDS, readKeepFile, type KeepFile } from './keep-file.ts';
import type { Keeping } from './keeping.ts';
import { countEntries, merged, NO_REMARKS } from './remarks.ts';

/** Takes a keep file in, and says in sentences what came of it. Throws `Unfit` before anything is changed. */
export async function takeIn(keeping: Keeping, text: string): Promise<string> {
  const file = readKeepFile(text);
  const sum = { added: 0, updated: 0, stayed: 0 };
  const here = new Map((await keeping.all()).map((recording) => [recording.hash, recording]));
  const changes = file.recordings.map((recording) => {
    const before = here.get(recording.hash)?.remarks ?? NO_REMARKS;
    const { remarks, ...counts } = merged(before, recording.remarks);
    sum.added += counts.added;
    sum.updated += counts.updated;
    sum.stayed += counts.stayed;
    return { recording, before, after: remarks };
  });
  await Promise.all(
    changes.map(({ recording: { hash, bytes, name }, before, after }) =>
      keeping.bring({ hash, bytes, name: here.get(hash)?.name ?? name }, before, after),
    ),
  );
  return `${summary(file, sum)} ${words(keeping, file)}`.trim();
}

function summary(file: KeepFile, sum: { added: number; updated: number; stayed: number }): string {
  const entries = file.recordings.reduce((all, { remarks }) => all + countEntries(remarks), 0);
  const parts = [
    `${sum.added} added`,
    `${sum.updated} brought up to date`,
    `${sum.stayed} left as here, where what is here is as new or newer`,
  ];
  return `${counted(entries, 'entry', 'entries')} for ${counted(file.recordings.length, 'recording', 'recordings')}: ${parts.join(', ')}.`;
}

/** Puts the words of the file on the person's own list, and says how many were new. */
function words(keeping: Keeping, file: KeepFile): string {
  const here = new Set(keeping.own.value.words);
  const fresh = [...new Set(file.own.words)].filter((word) => word !== '' && !here.has(word));
  if (fresh.length === 0) {
    return '';
  }
  const room = Math.max(0, MOST_WORDS - here.size);
  keeping.changeOwn((own) => ({ ...own, words: [...new Set([...own.words, ...fresh.slice(0, room)])] }));
  const left = fresh.length - Math.min(room, fresh.length);
  const rest = left > 0 ? ` ${left} more did not fit: a list holds ${MOST_WORDS}.` : '';
  return `${counted(fresh.length - left, 'word was', 'words were')} put on your list.${rest}`;
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}
