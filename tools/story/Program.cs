// placeholder for the story, written next
return 0;
