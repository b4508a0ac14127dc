/** Whether this is the static site: only there are files beside the page. The page in one file, and sources under work, are not. */
export const IS_SITE = import.meta.env.MODE === 'production';

/** Whether this is the page in one file, which may fetch nothing from anywhere. */
export const IS_ONE_FILE = import.meta.env.MODE === 'one-file';
