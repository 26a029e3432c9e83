"""What a written answer claims: who or what, what happens to it and which way, in one form however it is worded."""
