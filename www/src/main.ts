import './page.css';
import './shell/dusk-page.ts';
