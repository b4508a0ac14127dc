import { expect, test } from '@playwright/test';

import { makeCard, Night, removeCard, retold } from './card.ts';
import { told } from './command-line.ts';
import { BUZZ, FIRST_PASS, RAIN, TWO_ANIMALS } from './recordings.ts';

// Neither the files' own zone nor one that the page would be right with by chance.
test.use({ timezoneId: 'America/New_York' });

const FILES = [FIRST_PASS, BUZZ, TWO_ANIMALS, RAIN];

/** How many passes the files hold by the command line's account, if so many pulses make one. */
function passesOf(fewest: number): number {
  const all = FILES.flatMap((file) => told(file).summary.sequences);
  return all.filter(({ pulses }) => pulses >= fewest).length;
}

test('what is said of a night changes times and counts; what cannot be read is told and changes nothing', async ({ page }) => {
  const folder = makeCard({
    ...Object.fromEntries(FILES.map((file) => [file, retold(file)])),
    'odd 2026-06-15 at 00h10.wav': Buffer.from('no sound'),
  });
  const other = makeCard({ 'elsewhere.wav': retold(FIRST_PASS, ['LF-0001', 'LF-0003']) });
  try {
    const night = await Night.open(page, folder, '&leaf=settings');
    const { place } = night;
    const times = async (): Promise<string[]> => {
      await night.turnTo('Files');
      const lines = await night.lines();
      await night.turnTo('Settings');
      return lines.map(([time = '']) => time);
    };
    const first = async (): Promise<Record<string, string>> => (await night.nightTable())[0] ?? {};
    const zone = place.getByLabel('Local time is ahead of UTC by');
    // The metadata say +01:00.
    await expect(zone).toHaveValue('+01:00');
    const stated = ['22:01:05', '22:03:05', '22:06:05', '22:10:05'];
    // Nothing but its date in the folder places the odd one: 21:30 UTC.
    expect(await times()).toEqual([...stated, '22:30:00']);

    // Its name does, by a pattern of its own; the first attempt lacks the minutes.
    const pattern = 'Date and time in file names';
    await night.say(pattern, 'YYYY-MM-DD at hh');
    await expect(place.getByRole('alert')).toHaveText(
      'The pattern has no mm. It needs YYYY or YY, MM, DD, hh and mm, such as YYYYMMDD_hhmmss.',
    );
    await expect(place.getByLabel(pattern)).toHaveValue('YYYY-MM-DD at hh');
    await night.say(pattern, 'YYYY-MM-DD at hh?mm');
    await expect(place.getByRole('alert')).toHaveCount(0);
    expect(await times()).toEqual([...stated, '00:10:00']);

    // A clock that was an hour fast; the files keep what they say.
    const fast = 'The recorder’s clock was fast at set-up by';
    await night.say(fast, '3600');
    expect(await times()).toEqual(['21:01:05', '21:03:05', '21:06:05', '21:10:05', '23:10:00']);
    await night.say(fast, 'an hour');
    await expect(place.getByRole('alert')).toHaveText('Write seconds, such as 3600 or -12.');
    await expect(place.getByLabel(fast)).toHaveAttribute('aria-invalid', 'true');
    await expect(place.getByLabel(fast)).toHaveAccessibleDescription(/Write seconds, such as 3600 or -12\.$|^Write seconds/);
    expect((await times())[0]).toBe('21:01:05');
    await night.say(fast, '0');
    expect(await times()).toEqual([...stated, '00:10:00']);
    await night.say('Local time is ahead of UTC by', '-03:30');
    // Only what states no zone of its own is taken to be in the new one; the others are shown in it: 21:01:05 UTC.
    expect(await times()).toEqual(['17:31:05', '17:33:05', '17:36:05', '17:40:05', '00:10:00']);
    await night.say('Local time is ahead of UTC by', '+01:00');

    // Passes of at least two pulses, of fourteen, and of three.
    const fewest = 'A pass has at least so many pulses';
    expect((await first())['Passes']).toBe(String(passesOf(2)));
    await night.say(fewest, '14');
    expect((await first())['Passes']).toBe(String(passesOf(14)));
    expect(passesOf(14)).not.toBe(passesOf(2));
    await night.say(fewest, '1');
    await expect(place.getByRole('alert')).toHaveText('Write a whole number from 2 on.');
    expect((await first())['Passes']).toBe(String(passesOf(14)));
    await night.say(fewest, '3');
    expect((await first())['Passes']).toBe(String(passesOf(3)));

    // On watch from half an hour before sunset to half an hour after sunrise.
    const [from, to] = ['The timer was set to begin at', '… and to end at'];
    await night.say(from, 'sunset-30');
    await expect(place.getByRole('alert')).toHaveText('Write both ends: times such as 20:50, sunset-30 or sunrise+30.');
    await night.say(to, 'sunrise+30');
    await expect(place.getByRole('alert')).toHaveCount(0);
    // At 53.2 N 2.6 E, where the files say they were recorded, the sun sets at 20:17:37 and rises at 03:22:19 UTC: 7 h 4.7 min
    // (the Python package astral 3.2). Algorithms differ by seconds.
    expect((await first())['On watch']).toMatch(/^8 h [45] min$/);
    await night.say('Position', '0, 2.6');
    // On the equator from 17:53:24 to 05:46:38 UTC: 11 h 53.2 min (the same).
    expect((await first())['On watch']).toMatch(/^12 h 5[34] min$/);
    await night.say('Position', 'by the pond');
    await expect(place.getByRole('alert')).toHaveText('Write latitude and longitude in degrees, such as 52.4, 0.31.');
    expect((await first())['On watch']).toMatch(/^12 h 5[34] min$/);

    // What was said comes back with the night; with another one only how the person counts.
    await night.choose(folder);
    await expect(place.getByLabel('Position')).toHaveValue('0, 2.6');
    await expect(place.getByLabel(from)).toHaveValue('sunset-30');
    expect((await first())['On watch']).toMatch(/^12 h 5[34] min$/);
    await night.choose(other);
    await expect(place.getByLabel(fewest)).toHaveValue('3');
    await expect(place.getByLabel(pattern)).toHaveValue('YYYY-MM-DD at hh?mm');
    await expect(place.getByLabel('Position')).toHaveValue('');
    await expect(place.getByLabel(from)).toHaveValue('');
    expect(night.notebook.complaints).toEqual([]);
  } finally {
    removeCard(folder);
    removeCard(other);
  }
});
