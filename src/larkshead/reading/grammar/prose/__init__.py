"""Reading running words: sentences, numbered steps, speech."""
