import './page.css';
import './places/call/call-place.ts';
